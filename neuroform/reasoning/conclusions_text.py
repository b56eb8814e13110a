"""What the findings support, what limits it, and what comes next, in words.

Errs towards "cannot be judged": an unlikely pattern is named only when something decisive argues against it.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from neuroform.exam.findings import NotExamined
from neuroform.exam.walk import entry, name_of, side_of
from neuroform.reasoning.facts import Facts, merged
from neuroform.reasoning.items import (
    GAZE_EVOKED,
    HEAD_IMPULSE,
    ON_STANDING,
    SYMPTOMS,
    TRAINED,
)
from neuroform.reasoning.results import NextTest, PatternReading, Reading
from neuroform.reasoning.said import Said
from neuroform.reasoning.sensory_signs import jp_lost
from neuroform.reasoning.settled import settled, unsafe
from neuroform.reasoning.signs import ongoing
from neuroform.reasoning.wording import has, listed, rank, say, sentence

# In the order in which they are named when more are supported than can be.
_RANK = (
    "acute_vestibular_central",
    "acute_vestibular_peripheral",
    "combined_sensory_cerebellar",
    "sensory_ataxia",
    "upper_motor_neurone",
    "bilateral_vestibular",
    "cerebellar_hemisphere",
    "cerebellar_midline",
    "length_dependent_neuropathy",
    "dorsal_column",
    "lower_motor_neurone_weakness",
    "positional_vertigo",
    "compensated_vestibular",
    "frontal_or_parkinsonian_gait",
    "orthostatic",
    "functional",
    "visual_dependence",
)
_PLACES = {name: place for place, name in enumerate(_RANK)}
# What a complaint asks for: these are said to be open when they can't be judged.
_ASKED = {
    "unsteadiness": ("sensory_ataxia", "cerebellar_midline"),
    "falls": ("sensory_ataxia", "orthostatic"),
    "numbness": ("length_dependent_neuropathy", "sensory_ataxia"),
    "vertigo": ("acute_vestibular_peripheral", "positional_vertigo"),
    "weakness": ("upper_motor_neurone", "lower_motor_neurone_weakness"),
    "oscillopsia": ("bilateral_vestibular",),
    "light_headedness": ("orthostatic",),
}
# What the combined ataxia holds already.
_IN_COMBINED = ("sensory_ataxia", "cerebellar_midline")
# Said in a sentence of their own.
_OWN_WORDS = ("no_abnormality", "functional")
_MOST_SUPPORTED = 2
_MOST_MISSING = 3


def urgent_text(reading: Reading) -> Iterator[Said]:
    """Begin with the urgent findings, the most pressing first."""
    for urgency, group in groupby(reading.urgent, key=lambda found: found.urgency):
        found = list(group)
        what = "; ".join(say("urgent", one.code) for one in found)
        text = say("urgent", "begin", when=say("urgent", urgency), what=what)
        yield Said(text, merged(one.items for one in found), weight=0, urgent=True)


def support_text(facts: Facts, reading: Reading) -> Iterator[Said]:
    """Say what is supported, what is possible, what is argued against and what can't be judged."""
    reading = settled(facts, reading)
    by_name = _by_name(reading)
    supported = [one for one in _ranked(by_name, "supported") if one[0] not in _OWN_WORDS]
    if any(name == "combined_sensory_cerebellar" for name, _which in supported):
        supported = [one for one in supported if one[0] not in _IN_COMBINED]
    named = supported[:_MOST_SUPPORTED]
    possible = [one for one in _ranked(by_name, "possible") if one[0] not in _OWN_WORDS]
    held_back = _held_back(facts, reading, {name for name, _which in supported})
    possible = [one for one in possible if one[0] not in held_back]
    normal = reading.pattern("no_abnormality")
    if len(named) == 1:
        yield Said(say("conclusion", "supports_one", one=_name(named[0])), _items(named), weight=0)
    elif named:
        text = say("conclusion", "supports_two", one=_name(named[0]), two=_name(named[1]))
        yield Said(text, _items(named), weight=0)
    yield from _named_together(reading)
    if possible:
        first = possible[0]
        verb = say("conclusion", "are" if has("pattern_many", first[0]) else "is")
        text = say("conclusion", "possible", what=_name(first), verb=verb)
        yield Said(sentence(text), _items([first]), weight=1)
    if not facts.found:
        yield Said(say("conclusion", "nothing_recorded"), normal.missing, weight=0)
    elif normal.verdict == "supported":
        more = any(_open(facts, by_name))
        name = "normal_but_urgent" if reading.urgent else "normal_but_open" if more else "normal_supported"
        yield Said(say("conclusion", name), normal.supporting or _recorded(facts), weight=0)
    elif normal.verdict != "unlikely" and not named and not possible:
        yield Said(say("conclusion", "nothing_abnormal"), normal.missing or _recorded(facts), weight=0)
    elif not named and not possible and reading.pattern("functional").verdict not in ("supported", "possible"):
        rests = normal.opposing or normal.missing or _recorded(facts)
        yield Said(say("conclusion", "nothing_supported"), rests, weight=0)
    yield from _against(reading, by_name)
    yield from _trained(facts, reading)
    yield from _open(facts, by_name)


def _held_back(facts: Facts, reading: Reading, supported: set[str]) -> set[str]:
    """Return the patterns that are not said to be possible beside what says more, or would mislead."""
    found = set(_IN_COMBINED) if "combined_sensory_cerebellar" in supported else set()
    if "bilateral_vestibular" in supported:
        found.add("compensated_vestibular")
    if reading.raised("acute-vertigo-central-signs"):
        found.add("acute_vestibular_peripheral")
    if ongoing(facts).met and not jp_lost(facts).met:
        # In ongoing vertigo a fall with eyes closed points to a side, not to a sense.
        found.add("sensory_ataxia")
    return found


Named = tuple[str, tuple[PatternReading, ...]]


def _by_name(reading: Reading) -> dict[str, tuple[PatternReading, ...]]:
    """Return the readings by pattern, in the order in which patterns are named; what has no place in it comes first."""
    found: dict[str, tuple[PatternReading, ...]] = {}
    for one in reading.patterns:
        found[one.pattern] = (*found.get(one.pattern, ()), one)
    return {name: found[name] for name in sorted(found, key=lambda name: _PLACES.get(name, -1))}


def _ranked(by_name: Mapping[str, Sequence[PatternReading]], verdict: str) -> list[Named]:
    chosen = ((name, tuple(one for one in which if one.verdict == verdict)) for name, which in by_name.items())
    return [(name, which) for name, which in chosen if which]


def _name(named: Named) -> str:
    pattern, which = named
    if len(which) > 1:
        return say("pattern_both", pattern)
    side = which[0].side
    return say("pattern", pattern, side=say("plain", f"side_{side}") if side else "")


def _items(named: Sequence[Named]) -> tuple[str, ...]:
    return merged(one.supporting for _name_of, which in named for one in which)


def _recorded(facts: Facts) -> tuple[str, ...]:
    return tuple(facts.found)


def _named_together(reading: Reading) -> Iterator[Said]:
    """Say what two patterns mean together."""
    verdicts: dict[str, set[str]] = {}
    for one in reading.patterns:
        verdicts.setdefault(one.pattern, set()).add(one.verdict)

    def likely(name: str) -> bool:
        return bool(verdicts.get(name, set()) & {"supported", "possible"})

    def rests(*names: str) -> tuple[str, ...]:
        return merged(one.supporting for one in reading.patterns if one.pattern in names and one.supporting)

    if likely("combined_sensory_cerebellar") and likely("bilateral_vestibular"):
        items = rests("combined_sensory_cerebellar", "bilateral_vestibular")
        yield Said(say("conclusion", "three_systems"), items, weight=0)
    if "supported" in verdicts.get("length_dependent_neuropathy", ()) and "supported" in verdicts.get(
        "upper_motor_neurone", ()
    ):
        items = rests("length_dependent_neuropathy", "upper_motor_neurone")
        yield Said(say("conclusion", "cord_and_nerve"), items, weight=1)
    for one in reading.patterns:
        if one.pattern == "cerebellar_hemisphere" and one.verdict in ("supported", "possible"):
            other = reading.pattern("upper_motor_neurone", one.side)
            if other.verdict == "supported":
                items = merged((one.supporting, other.supporting))
                yield Said(say("conclusion", "ataxic_hemiparesis"), items, weight=1)
    if likely("functional"):
        said = f"functional_{reading.pattern('functional').verdict}"
        yield Said(say("conclusion", said), rests("functional"), weight=0)
    if "supported" in verdicts.get("orthostatic", ()):
        one = reading.pattern("orthostatic")
        if ON_STANDING.path not in one.supporting:
            yield Said(say("conclusion", "no_symptom_fall"), one.supporting, weight=1)


def _against(reading: Reading, by_name: Mapping[str, Sequence[PatternReading]]) -> Iterator[Said]:
    """Name at most one pattern that something decisive argues against, where something spoke for it."""
    if any(one.pattern == "acute_vestibular_peripheral" and one.verdict == "supported" for one in reading.patterns):
        central = reading.pattern("acute_vestibular_central")
        if central.verdict == "unlikely" and central.opposing:
            text = say("conclusion", "against", what=say("pattern", central.pattern, side=""))
            yield Said(text, central.opposing, weight=1)
            return
    for name in _RANK:
        for one in by_name.get(name, ()):
            if one.verdict == "unlikely" and one.argued_against and one.strong:
                text = say("conclusion", "against", what=_name((name, (one,))))
                yield Said(text, one.opposing, weight=2)
                return


def _trained(facts: Facts, reading: Reading) -> Iterator[Said]:
    """Add to a benign reading of vertigo that it rests on a trained hand."""
    benign = [
        one for one in reading.patterns if one.pattern == "acute_vestibular_peripheral" and one.verdict == "supported"
    ]
    if not benign:
        return
    trained = facts.value(TRAINED)
    items = merged((tuple(ref.path for ref in (HEAD_IMPULSE.right, HEAD_IMPULSE.left)), (TRAINED.path,)))
    if trained != "yes":
        recorded = say("vestibular", "trained_not_recorded" if trained is None else "trained_no")
        yield Said(say("vestibular", "trained", recorded=recorded), items, weight=0)
    yield Said(say("vestibular", "would_change"), (*items, GAZE_EVOKED.path), weight=1)


def _open(facts: Facts, by_name: Mapping[str, Sequence[PatternReading]]) -> Iterator[Said]:
    """Say what can't be judged, where something speaks for it or the complaint asks for it."""
    judged = {name for name, which in by_name.items() if any(one.verdict in ("supported", "possible") for one in which)}
    complaints = [_ASKED.get(symptom, ()) for symptom in facts.value(SYMPTOMS) or ()]
    asked = {name for asks in complaints if not judged & set(asks) for name in asks}
    barred = unsafe(facts)
    said = 0
    for name in _RANK:
        which = [one for one in by_name.get(name, ()) if one.verdict == "not_assessable"]
        speaks = any(one.strong for one in which)
        if not which or name in judged or not (speaks or name in asked) or said == _MOST_SUPPORTED:
            continue
        missing = tuple(path for path in merged(one.missing for one in which) if entry(path).path not in barred)
        if not missing:
            continue
        said += 1
        what = say("pattern_open", name) if len(which) > 1 else _name((name, tuple(which)))
        text = say("conclusion", "cannot", what=what, missing=_missing(facts, missing))
        yield Said(sentence(text), missing, weight=1)


def _missing(facts: Facts, paths: tuple[str, ...]) -> str:
    """Say what was not recorded, not examined, or uncertain: three different things, at most three items in all."""
    telling = sorted(paths, key=lambda path: rank("items", entry(path).path))
    shown: dict[str, list[str]] = {}
    for path in telling:
        if sum(map(len, shown.values())) == _MOST_MISSING:
            break
        name = _in_prose(path, alone=_one_side_alone(path, paths))
        kind = _why_missing(facts, path)
        if not any(name in names for names in shown.values()):
            shown.setdefault(kind, []).append(name)
    return listed(
        say("conclusion", f"{kind}_{'one' if len(names) == 1 else 'many'}", items=listed(names))
        for kind, names in shown.items()
    )


def _why_missing(facts: Facts, path: str) -> str:
    found = facts.found.get(path)
    return "missing" if found is None else "reason" if isinstance(found, NotExamined) else "unclear"


def _one_side_alone(path: str, paths: tuple[str, ...]) -> bool:
    """Tell whether only one side of an item is among the paths."""
    at = entry(path)
    return at.sided and sum(whole in paths for whole in at.paths) == 1


def _in_prose(path: str, *, alone: bool = False) -> str:
    """Name an item within a sentence, its side too where it stands alone: as the template does, else in lower case."""
    item, side = entry(path).path, side_of(path)
    name = say("items", item) if has("items", item) else _name_in_prose(path)
    shown = name if name[:2].isupper() else name[:1].lower() + name[1:]
    if alone and side:
        return say("conclusion", "one_side", item=shown, side=say("plain", f"side_{side}"))
    return shown


def _name_in_prose(path: str) -> str:
    name = name_of(path)
    return name.replace(": ", " of ", 1) if path.startswith("motor.power.") else name.replace(": ", ", ")


def last_text(reading: Reading, next_tests: Sequence[NextTest]) -> Iterator[Said]:
    """End with what must not be delayed, else with what to examine next."""
    now = [one for one in reading.urgent if one.urgency == "immediate"]
    if now:
        what = "; ".join(say("delay", one.code) for one in now[:3])
        yield Said(say("delay", "begin", what=what), merged(one.items for one in now[:3]), weight=0, urgent=True)
    elif next_tests:
        tests = listed([_test(one.item) for one in next_tests[:3]])
        yield Said(say("next", "examine", tests=tests), tuple(one.item for one in next_tests[:3]), weight=0)


def _test(path: str) -> str:
    side = side_of(path)
    label = _in_prose(path)
    return f"{label} ({say('plain', f'side_{side}')})" if side else label
