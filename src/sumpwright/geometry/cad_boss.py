# SPDX-License-Identifier: Apache-2.0
"""Bosses of a pan from numbers: set, drilled, and refused where they cannot stand."""

from sumpwright.geometry.cad_measure import Solid, solids_of, volume
from sumpwright.geometry.cad_solid import common, rod
from sumpwright.geometry.pan_form import BossForm, PanError, PanFlaw, PanForm

SLICE = 1e-5
"""m; thickness of a disc that asks what is at a face."""
OUT = 1e-3
"""m; how far a drill stands out of the face that it starts at."""


def boss_rod(boss: BossForm) -> Solid:
    """The boss before it is drilled.

    Parameters
    ----------
    boss : BossForm [m]
        In numbers.

    Returns
    -------
    solid : Solid [mm]
    """
    return rod(boss.at, boss.inner, boss.radius)


def bores_in(form: PanForm) -> list[Solid]:
    """What is drilled through the bosses and on through the wall behind them.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.

    Returns
    -------
    rods : list of Solid [mm]
    """
    return [_bore(b, form) for b in form.bosses]


def refuse_bosses(form: PanForm, cavity: Solid, shell: Solid) -> None:
    """Raise where a boss is off the pan, goes through it, or its hole does not reach the inside.

    Parameters
    ----------
    form : PanForm [m]
        In numbers.
    cavity : Solid [mm]
        The inside without bosses.
    shell : Solid [mm]
        The outside without bosses.

    Raises
    ------
    PanError
    """
    flaws = [f for k, b in enumerate(form.bosses) if (f := _flaw(form, k, b, cavity, shell))]
    if flaws:
        raise PanError(flaws)


def _bore(boss: BossForm, form: PanForm) -> Solid:
    deep = boss.height + max(form.wall, form.floor)
    return rod(boss.at + OUT * boss.out, boss.at - deep * boss.out, boss.bore)


def _flaw(form: PanForm, k: int, boss: BossForm, cavity: Solid, shell: Solid) -> PanFlaw | None:
    part = ("bosses", k)
    whole = boss_rod(boss)
    if common(whole, shell) is None:
        x, y, z = 1e3 * boss.inner
        here = f"x {x:.1f} mm, y {y:.1f} mm, z {z:.1f} mm"
        found = f"{boss.name} off the pan: its inner face is at {here}"
        needed = "a boss that runs into the pan's wall"
        return PanFlaw("SHAP-509", part, found, needed, "mend `at`, `facing` or `height`")
    if common(rod(boss.at, boss.at - SLICE * boss.out, boss.radius), cavity) is not None:
        found = f"{boss.name} with its outer face in the inside"
        needed = "an outer face outside the pan"
        return PanFlaw("SHAP-509", part, found, needed, "move `at` out, or turn `facing` round")
    if len(_pieces(whole, shell)) > 1 or len(_pieces(_bore(boss, form), shell)) > 1:
        found = f"{boss.name} comes out of the pan again at another side"
        do = "make `height` less, or move it"
        return PanFlaw("SHAP-510", part, found, "a boss through one wall only", do)
    if len(_pieces(cavity, whole)) != 1:
        found = f"{boss.name} across the inside, which it parts in two"
        return PanFlaw("SHAP-510", part, found, "room round the boss", "make `height` less")
    end = boss.at - (boss.height + max(form.wall, form.floor)) * boss.out
    if common(rod(end + SLICE * boss.out, end, boss.bore), cavity) is None:
        found = f"{boss.name}, whose hole does not end in the inside"
        needed = "a hole that opens into the inside"
        return PanFlaw("SHAP-509", part, found, needed, "mend `at`, `facing` or `height`")
    return None


def _pieces(solid: Solid, other: Solid) -> list[Solid]:
    """What is left of a solid outside another."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    return [s for s in solids_of(BRepAlgoAPI_Cut(solid, other).Shape()) if volume(s) > 1e-12]
