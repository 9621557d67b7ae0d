# SPDX-License-Identifier: Apache-2.0
"""What a programme tells people to do; all of it common practice, no source."""

BEFORE = (
    "The bench sheets of this revision are filled in and signed: fill, tilt, doors, leaks.",
    "Oil at the full mark on level ground, engine off, drained back; the amount poured in is "
    "noted.",
    "Pan bolts, drain plug, pickup joint and filter tight; no drip after standing.",
    "Oil pressure gauge, its warning light and the logger show a pressure when the oil is "
    "pressed round before the engine runs, or within seconds of the start, and zero with the "
    "engine off. Log pressure at 25 Hz or more with a sensor that answers within 50 ms.",
    "Oil temperature, engine speed, road speed and lateral g are logged, or read to a passenger "
    "where the track's rules allow one.",
    "Course closed, room to run off, a person with a fire extinguisher and a way to call for help; "
    "belts, helmets and clothes as the track's rules ask.",
    "The driver knows the abort line by heart and has agreed the signal to stop.",
    "Oil binder, drip tray, rags, gloves and a spare fill of oil are at hand.",
)
WARM = (
    "Idle and look for leaks at every joint: two minutes, from outside the car, not under it.",
    "Drive gently and straight, under half of the engine's speed, until the oil is within 10 K of "
    "what the pressures are given at. Thick oil makes pressure that proves nothing.",
    "Stop, look again for leaks with the oil hot, and let it drain back before the level is read.",
)
AFTER = (
    "Oil temperature and coolant temperature",
    "Leaks at rail, plug, pickup joint, filter, welds",
    "Level after the same wait every time",
    "Least oil pressure seen, and where on the course",
    "Noise, foam on the dipstick, smoke",
)
_COVERED = "Pressure stayed over the abort line in every run, both ways round."
_SAME = "Level as before within the reading, no new leak, temperatures within the maker's limits."
_STOP = "Any no: stop here. Find out why before going on, and never go on to a faster stage."
_HEAVY = (
    "Where the model expects air, do not drive that run on an engine you cannot afford to lose: "
    "change the pan, or end the programme at the stage before it."
)
_STRAIGHTEN = (
    "At the abort line: lift off, straighten, clutch in, engine off when it is safe to. Do not "
    "wait to see whether it comes back."
)
_MOVES = (
    "The engine's speed changes in the run and the abort line with it: a person beside the driver, "
    "or the log afterwards, holds pressure against the card at the speed of that moment."
)
GATE = {
    "before": ("Everything above is ticked; else the engine is not started.",),
    "warm-up": ("Pressure over the abort line at idle and while driving.", _SAME),
    "circle": (_COVERED, _SAME, "The log was looked at, not just the gauge."),
    "figure-eight": (_COVERED, _SAME),
    "slalom": (_COVERED, _SAME),
    "launch": ("Pressure stayed over the abort line in every run.", _SAME),
    "brake": ("Pressure stayed over the abort line in every stop.", _SAME),
    "sustained": (
        _COVERED,
        _SAME,
        "Drain through a fine sieve or cut the filter open: no metal.",
        "The session is recorded; then the pan comes off for the teardown.",
    ),
}
HOW = {
    "circle": (
        "Left first, then right, each from a straight run-in. Bring the g on as in earnest and "
        "hold it; keep radius and speed by the lap time.",
        "Between the two ways: ten seconds straight and gentle.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
    "figure-eight": (
        "Line by line, slow first. Change over without a pause: that is what is tested.",
        "Next line only when the one before kept its pressure every time.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
    "slalom": (
        "Line by line, slow first, at a steady speed.",
        "Next line only when the one before kept its pressure every time.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
    "launch": (
        "Line by line, gentle first, in a straight line, as evenly as the car lets you; less g "
        "than asked for proves that much and no more.",
        _MOVES,
        "Leave as much room to stop as the run takes, and more. Next line only when the one "
        "before kept its pressure every time.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
    "brake": (
        "Line by line, gentle first, in a straight line, clutch in before the engine stalls.",
        _MOVES,
        "Next line only when the one before kept its pressure every time; let the brakes cool.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
    "sustained": (
        "Long enough for heat and foam to build up. Left, then right; watch temperature as well.",
        "Ends at once at the abort line or at the maker's limit of temperature.",
        _STRAIGHTEN,
        _HEAVY,
        _STOP,
    ),
}
