# SPDX-License-Identifier: Apache-2.0
"""Archives that mean harm, each made here and refused with its own code."""

import io
import struct
import zipfile
from pathlib import Path

import pytest

from sumpwright.errors import InputError
from sumpwright.geometry import archive as archive_module
from sumpwright.geometry.archive import safe_archive, safe_xml
from sumpwright.geometry.threemf import read_3mf

MODEL = "3D/3dmodel.model"


def save(folder: Path, *parts: tuple[str, bytes]) -> Path:
    path = folder / "part.3mf"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts:
            archive.writestr(zipfile.ZipInfo(name), data, zipfile.ZIP_DEFLATED)
    return path


def code(path: Path) -> str:
    with pytest.raises(InputError) as caught:
        read_3mf(path)
    return caught.value.problems[0].code


def test_a_bomb_is_refused_by_its_directory(tmp_path: Path) -> None:
    """Ten mebibytes of blanks shrink a thousandfold; no model does."""
    assert code(save(tmp_path, (MODEL, b" " * 10 * 2**20))) == "GEO-221"


def test_many_parts_that_unpack_to_too_much_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(archive_module, "MAX_UNPACKED", 1000)
    assert code(save(tmp_path, (MODEL, b"<a/>" * 100), ("more", b"<b/>" * 200))) == "GEO-221"
    monkeypatch.setattr(archive_module, "MAX_PARTS", 1)
    assert code(save(tmp_path, (MODEL, b""), ("more", b""))) == "GEO-221"


def test_a_directory_that_lies_about_sizes_gets_no_further(tmp_path: Path) -> None:
    """20 MiB inside, 1,000 bytes according to the directory: no more than that is unpacked."""
    path = save(tmp_path, (MODEL, b" " * 20 * 2**20))
    data = bytearray(path.read_bytes())
    for signature, offset in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        place = data.index(signature) + offset
        data[place : place + 4] = struct.pack("<I", 1000)
    path.write_bytes(data)
    assert code(path) == "GEO-220"


@pytest.mark.parametrize(
    "name",
    ["../../evil", "3D/../../evil", "/etc/passwd", "C:/evil", "..\\evil", "3D/..", "a\nb"],
)
def test_names_that_reach_out_are_refused(tmp_path: Path, name: str) -> None:
    assert code(save(tmp_path, (MODEL, b"<model/>"), (name, b"x"))) == "GEO-222"


def test_links_and_repeated_names_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "link.3mf"
    with zipfile.ZipFile(path, "w") as archive:
        link = zipfile.ZipInfo(MODEL)
        link.external_attr = 0o120777 << 16
        archive.writestr(link, "/etc/passwd")
    assert code(path) == "GEO-222"
    with pytest.warns(UserWarning, match="Duplicate name"):
        path = save(tmp_path, (MODEL, b"<model/>"), (MODEL, b"<other/>"))
    assert code(path) == "GEO-222"


DOCTYPES = [
    b'<!DOCTYPE m [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;">]><model>&b;</model>',
    b'<!DOCTYPE m [<!ENTITY x SYSTEM "file:///etc/passwd">]><model>&x;</model>',
    b'<!DOCTYPE m SYSTEM "http://example.invalid/m.dtd"><model/>',
    b"<! doctype m><model/>",
    '<!DOCTYPE m [<!ENTITY a "b">]><model>&a;</model>'.encode("utf-16"),
    '<?xml version="1.0" encoding="utf-16le"?><model/>'.encode("utf-16le"),
    b'<?xml version="1.0" encoding="utf-7"?>+ADwAIQ-DOCTYPE m+AD4-<model/>',
]


@pytest.mark.parametrize("xml", DOCTYPES)
def test_document_types_entities_and_odd_encodings_are_refused(tmp_path: Path, xml: bytes) -> None:
    assert code(save(tmp_path, (MODEL, xml))) == "GEO-223"
    assert code(save(tmp_path, ("_rels/.rels", xml), (MODEL, b"<model/>"))) == "GEO-223"


def test_plain_xml_with_a_mark_or_a_declaration_is_read() -> None:
    for text in (b"<model/>", b'<?xml version="1.0" encoding="UTF-8"?><model/>'):
        for mark in (b"", b"\xef\xbb\xbf"):
            assert safe_xml(Path("a.3mf"), MODEL, mark + text).tag == "model"


def test_too_many_tags_and_too_deep_a_tree_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert code(save(tmp_path, (MODEL, b"<a>" * 5000 + b"</a>" * 5000))) == "GEO-225"
    monkeypatch.setattr(archive_module, "MAX_TAGS", 5)
    assert code(save(tmp_path, (MODEL, b"<a>" + b"<b/>" * 5 + b"</a>"))) == "GEO-207"


def test_damage_passwords_and_odd_packing_are_told(tmp_path: Path) -> None:
    path = save(tmp_path, (MODEL, b"<model>" + bytes(range(32, 60)) + b"</model>"))
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    assert code(path) == "GEO-220"
    wrong = bytearray(whole)
    wrong[whole.index(MODEL.encode()) + len(MODEL) + 3] ^= 0xFF  # inside the packed part
    path.write_bytes(wrong)
    assert code(path) == "GEO-220"
    locked = bytearray(whole)
    locked[whole.index(b"PK\x01\x02") + 8] |= 1
    path.write_bytes(locked)
    assert code(path) == "GEO-220"
    odd = bytearray(whole)
    for signature, offset in ((b"PK\x01\x02", 10), (b"PK\x03\x04", 8)):
        odd[whole.index(signature) + offset] = 99
    path.write_bytes(odd)
    assert code(path) == "GEO-220"


def test_the_relations_name_the_model(tmp_path: Path) -> None:
    relations = (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
        b'<Relationship Target="/3D/Odd.model" Id="r" '
        b'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
    )
    assert code(save(tmp_path, ("_rels/.rels", relations))) == "GEO-224"
    path = save(tmp_path, ("_rels/.rels", relations), ("3D/odd.MODEL", b"<model/>"))
    mesh, unit = read_3mf(path)
    assert (len(mesh.faces), unit) == (0, 1e-3)


def test_nothing_is_written_to_disk(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("a/b.txt", "text")
    path = tmp_path / "a.3mf"
    path.write_bytes(buffer.getvalue())
    with safe_archive(path) as opened:
        assert opened.part("a/b.txt") == b"text"
    assert [p.name for p in tmp_path.iterdir()] == ["a.3mf"]
