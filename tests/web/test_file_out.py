# SPDX-License-Identifier: Apache-2.0
"""Files of out/: those that are reports, and one test for each way to something else."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from sumpwright.errors import SumpwrightError
from sumpwright.web import file_out
from sumpwright.web.desk import RefusedError
from tests.web.served import Site, guarded_site, job_app


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    for part in ("out/cache", "out/page", "out/incoming", "out/deep", "geometry"):
        (folder / part).mkdir(parents=True)
    (folder / "out" / "report.html").write_text("<p>report</p>", encoding="utf-8")
    (folder / "out" / "deep" / "plan sheet ä.pdf").write_bytes(b"%PDF-1.7")
    (folder / "out" / "pan.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    for hidden in ("cache/a.json", "page/b.json", "incoming/c.csv", ".d.txt"):
        (folder / "out" / hidden).write_text("kept", encoding="utf-8")
    (folder / "job.yaml").write_text("job: mine\n", encoding="utf-8")
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    return folder


@pytest.fixture
def site(job: Path) -> Iterator[Site]:
    with guarded_site(app=job_app(file_out.ROUTES, job)) as site:
        yield site


def test_a_report_is_shown_with_its_own_kind(site: Site) -> None:
    answer = site.ask("/api/out/report.html")
    assert (answer.text, answer.headers["content-type"]) == (
        "<p>report</p>",
        "text/html; charset=utf-8",
    )
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["cache-control"] == "no-store"
    sheet = site.ask("/api/out/deep/plan%20sheet%20%C3%A4.pdf")
    assert (sheet.content, sheet.headers["content-type"]) == (b"%PDF-1.7", "application/pdf")


TO_SECRET = [
    "../../secret.txt",
    "..%2F..%2Fsecret.txt",
    "%2e%2e/%2e%2e/secret.txt",
    "%2e%2e%2f%2e%2e%2fsecret.txt",
    "..%252f..%252fsecret.txt",
    "..\\..\\secret.txt",
    "..%5C..%5Csecret.txt",
    "....//....//secret.txt",
    "deep/../../../secret.txt",
    "deep/..%2f..%2f..%2fsecret.txt",
    "/etc/passwd",
    "%2Fetc%2Fpasswd",
    "//server/share/secret.txt",
    "%5C%5Cserver%5Cshare%5Csecret.txt",
    "C:/secret.txt",
    "C%3A%5Csecret.txt",
    "file:///etc/passwd",
    "report.html%00.txt",
    "secret.txt%00.html",
    "%c0%ae%c0%ae/%c0%ae%c0%ae/secret.txt",
    "%uff0e%uff0e/secret.txt",
    "..%00/../secret.txt",
    "report.html:stream.txt",
    "NUL.txt",
    "con.html",
    "deep/COM1.pdf",
    ".",
    "",
    "deep",
    "deep/",
    "report.html/",
    "report.html.",
    "report.html%20",
    "../job.yaml",
    "../geometry",
    ".d.txt",
    "cache/a.json",
    "CACHE/a.json",
    "page/b.json",
    "incoming/c.csv",
    "missing.html",
]


@pytest.mark.parametrize("path", TO_SECRET)
def test_no_spelling_of_a_path_shows_what_is_no_report(site: Site, path: str) -> None:
    raw = f"GET /api/out/{path} HTTP/1.1\r\nHost: {site.host}\r\nCookie: {site.cookie}\r\n"
    said = site.raw(raw.encode() + b"Connection: close\r\n\r\n")  # a client would tidy the path
    assert said.split(b" ")[1] in (b"400", b"404", b"415", b"422", b"307")
    assert b"secret\r\n" not in said
    for held in (b"root:", b"kept", b"job: mine"):
        assert held not in said


@pytest.mark.parametrize("path", [p for p in TO_SECRET if "%" not in p])
def test_the_path_itself_is_refused_whoever_asks(job: Path, path: str) -> None:
    with pytest.raises((SumpwrightError, RefusedError)):
        file_out.content_of(file_out.out_path(job, path))


def test_a_link_out_of_the_folder_is_refused(job: Path, site: Site) -> None:
    (job / "out" / "a.txt").symlink_to(job.parent / "secret.txt")
    (job / "out" / "up").symlink_to(job.parent)
    (job / "out" / "self.txt").symlink_to(job / "job.yaml")
    for name in ("a.txt", "up/secret.txt", "self.txt", "up/job/out/report.html"):
        answer = site.ask(f"/api/out/{name}")
        assert answer.status_code == 422
        assert "secret" not in answer.text.replace("secret.txt", "")


def test_an_out_that_is_itself_a_link_shows_nothing(job: Path, site: Site) -> None:
    (job / "out").rename(job.parent / "elsewhere")
    (job / "out").symlink_to(job.parent / "elsewhere")
    assert site.ask("/api/out/report.html").status_code == 422


def test_a_link_put_there_between_the_look_and_the_reading_is_not_followed(job: Path) -> None:
    path = file_out.out_path(job, "report.html")
    path.unlink()
    path.symlink_to(job.parent / "secret.txt")
    with pytest.raises(RefusedError, match="is not in out/ any more"):
        file_out.content_of(path)


def test_a_pipe_does_not_hold_the_server(job: Path, site: Site) -> None:
    os.mkfifo(job / "out" / "pipe.txt")
    assert site.ask("/api/out/pipe.txt").status_code == 404


def test_a_kind_that_is_not_in_the_table_is_not_shown(job: Path, site: Site) -> None:
    for name in ("run.js", "page.xhtml", "doc.xml", "x.htm", "noending", "a.swf"):
        (job / "out" / name).write_text("<script>1</script>")
        assert site.ask(f"/api/out/{name}").status_code == 415


def test_a_file_that_would_fill_memory_is_refused(
    job: Path, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(file_out, "MOST", 5)
    answer = site.ask("/api/out/report.html")
    assert answer.status_code == 413
    assert "open it from the folder" in answer.json()["error"]


def test_without_a_job_there_is_nothing_to_show() -> None:
    with guarded_site(app=job_app(file_out.ROUTES, None)) as site:
        assert site.ask("/api/out/report.html").status_code == 409


def test_a_report_is_in_a_sandbox_without_an_origin(site: Site) -> None:
    policy = site.ask("/api/out/report.html").headers["content-security-policy"]
    said = [p.strip() for p in policy.split(";")]
    assert "sandbox allow-scripts" in said
    assert "allow-same-origin" not in policy
    assert "default-src 'none'" in said
    assert "frame-ancestors 'self'" in said
    assert not [p for p in said if p.startswith("script-src") and "unsafe" in p]
    drawing = site.ask("/api/out/pan.svg").headers["content-security-policy"]
    assert "sandbox;" in drawing
    assert "script" not in drawing


def test_the_script_that_may_run_is_the_player_s_as_reports_carry_it() -> None:
    from sumpwright.report.block import page_of
    from sumpwright.report.film_player import script_of

    class Named:
        job = revision = verdict = "x"

    page = page_of(Named(), [], script=script_of()).decode("utf-8")  # type: ignore[arg-type]
    (own,) = [p for p in file_out.policy_of(".html").split("; ") if p.startswith("script-src")]
    assert own in page
