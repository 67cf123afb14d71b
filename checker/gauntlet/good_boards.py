"""Boards that are good by construction: a builder's plain habits, made up by chance.

The sound goes tuner, wah, compressor, drives, modulation, echoes, in the order that everybody learns. Each box has an isolated
outlet of its own with a third in reserve, or shares one with a quiet neighbour. One amplifier brings the earth, the others hang on
isolating transformers whose screens are lifted. Boxes stand in raised rows with room for plugs and feet. Nothing of it asks
how anything is checked.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from random import Random
from typing import Any

from gauntlet.rig import Rig, volts

SHAPES = ("one", "own-loop", "all", "stereo", "wet-dry", "choice", "desk")
"""How the sound gets to the amplifiers: to one; to one whose own loop has the echoes in it; the same to all of them; to two from a stereo
echo; bare to one and effects alone to the others; to one of two at a time; to a mixing desk."""

_ROW = 150
"""Depth of a row [mm]."""
_PLACES = {"GB": 230, "IE": 230, "DE": 230, "FR": 230, "US": 120}
_PURPOSES = ("home", "home", "stage", "stage", "tour")


@dataclass(frozen=True)
class Sort:
    """A sort of box: least and most that it draws [mA], and what more is written of it."""

    kind: str
    least: int
    most: int
    more: tuple[tuple[str, Any], ...] = ()
    digital: bool = False
    wide: bool = False


def _sort(kind: str, least: int, most: int, digital: bool = False, wide: bool = False, **more: Any) -> Sort:
    return Sort(kind, least, most, tuple(more.items()), digital, wide)


_EARLY = (
    _sort("compressor", 5, 12),
    _sort("octave", 20, 40, latency="0 ms"),
    _sort("pitch", 150, 320, digital=True, latency="6 ms"),
)
_DRIVES = (_sort("overdrive", 5, 12), _sort("distortion", 8, 20), _sort("overdrive", 15, 30))
_TONE = (_sort("chorus", 20, 40), _sort("phaser", 10, 20), _sort("flanger", 20, 40), _sort("tremolo", 10, 20), _sort("vibrato", 20, 35))
_TIME = (
    _sort("delay", 120, 300, digital=True, wide=True, latency="1.9 ms", dry_through="yes"),
    _sort("reverb", 120, 350, digital=True, wide=True, latency="1.8 ms", dry_through="yes"),
    _sort("looper", 150, 300, digital=True, wide=True, latency="1.4 ms", dry_through="yes"),
)


class _Builder:
    def __init__(self, seed: int) -> None:
        self.r = Random(seed)
        self.rig = Rig(seed)
        r = self.r
        self.purpose = r.choice(_PURPOSES)
        self.devices = min(60, max(3, round(2.6 * 23 ** (r.random() ** 1.1))))
        self.rig.shape = self._shape()
        shapes = {"one": 1, "own-loop": 1, "desk": 1, "stereo": 2, "choice": 2}
        self.amps = shapes.get(self.rig.shape) or r.randint(2, 4)
        self.laid_out = r.random() < 0.7
        self.country = r.choice(list(_PLACES))
        self.rear = r.random() < 0.7
        """Whether jacks are behind the boxes; otherwise at their sides, where plugs want more room between them."""
        self.gap = 33 if self.rear else 55
        self.numbers: dict[str, int] = {}
        self.order: list[str] = []
        """Boxes in the order of the sound, for where they stand."""

    def _shape(self) -> str:
        if self.devices < 5:
            return self.r.choice(("one", "one", "desk"))
        return self.r.choice(SHAPES)

    def build(self) -> Rig:
        rig, r = self.rig, self.r
        board: dict[str, Any] = {"name": f"Gauntlet {rig.seed}", "for": self.purpose}
        rig.sections["board"] = board
        tour = self.purpose == "tour" and _PLACES[self.country] == 230
        rig.sections["place"] = {"country": ["GB", "IE", "DE"] if tour else [self.country], "rcd": "30 mA", "ambient": "30 °C", "circuits": {"stage": {"rating": "20 A", "dimmer": "no"}}}
        pickups = r.choice(("single-coil", "humbucker", "single-coil", "active"))
        self.guitar_lead = r.choice((3, 4, 5, 6))
        rig.sections["guitar"] = {"pickups": pickups, "level": "0.6 V", "lead": {"length": f"{self.guitar_lead} m", "capacitance": "85 pF/m"}}
        for name in ("supplies", "pedals", "switchers", "isolators", "amps"):
            rig.section(name)
        self._sound()
        self._power()
        self._wall()
        if self.laid_out:
            self._places()
            if self.rear:
                self._runs()
        self._lid()
        if rig.on_stage or r.random() < 0.3:
            self._bench()
        rig.sections = {name: said for name, said in rig.sections.items() if said}
        return rig

    # --- boxes and the sound ------------------------------------------------------------------------------------------

    def _add(self, sort: Sort, **more: Any) -> str:
        number = self.numbers[sort.kind] = self.numbers.get(sort.kind, 0) + 1
        name = f"{sort.kind.replace('-', '_')}_{number}"
        said: dict[str, Any] = {"kind": sort.kind, "polarity": "same", **dict(sort.more), **more}
        said["needs"] = f"9V dc centre-negative {self.r.randint(sort.least, sort.most)}mA" if sort.most else "none"
        if sort.digital:
            said["digital"] = "yes"
        said["size"] = [120, 120, 60] if sort.wide else [72, 120, 55]
        said["weight"] = "600 g" if sort.wide else "300 g"
        self.rig.pedals[name] = said
        self.order.append(name)
        return name

    def _hop(self, start: str, end: str, **lead: Any) -> None:
        self.rig.audio.append({"path": f"{start} > {end}", **({"lead": lead} if lead else {})})

    def _off_board(self, start: str, end: str, metres: int, **more: Any) -> None:
        ends = ["straight", "angled"] if start in ("guitar", "amp_1.send") else ["angled", "straight"]
        self._hop(start, end, length=f"{metres} m", capacitance="85 pF/m", ends=ends, anchor="yes", **more)

    def _sound(self) -> None:
        r, rig = self.r, self.rig
        left = self.devices
        chain: list[str] = []
        if left >= 6 and rig.sections["guitar"]["pickups"] != "active" and r.random() < 0.3:
            chain.append(self._fuzz())
            left -= 1
        tuner = self._add(_sort("tuner", 40, 80, digital=True), bypass="buffered")
        chain.append(tuner)
        left -= 1
        if left >= 3 and r.random() < 0.4:
            chain.append(self._treadle("wah"))
            left -= 1
        echoes = max(1, min(4, left // 4))
        parts = 1 if self.amps > 1 and self.rig.shape in ("all", "wet-dry", "choice") else 0
        plain = max(0, left - echoes - parts)
        chain += self._helpers_and_drives(plain)
        if rig.on_stage and left >= 6 and r.random() < 0.4:
            chain.append(self._treadle("volume-pedal"))
        echo_boxes = [self._add(r.choice(_TIME[:2] if each else _TIME), bypass="buffered") for each in range(echoes)]
        chain, looped = self._loops(chain)
        if looped and r.random() < 0.4:
            self._tuner_aside(chain, tuner)
        if rig.shape == "wet-dry":
            self._wet_dry(chain, echo_boxes)
        else:
            self._straight(chain, echo_boxes)
        rig.chain = [each for each in chain if each not in looped] + (echo_boxes if rig.shape not in ("wet-dry", "own-loop") else [])
        if self.devices >= 8 and r.random() < 0.25:
            self._blend(chain)
        self._amps()
        self._presets()
        self._midi_and_control(echo_boxes)
        self._promises(echo_boxes)

    def _fuzz(self) -> str:
        name = self._add(_sort("fuzz", 2, 4), bypass="true-bypass", zin="8k", zout="8k", wants=["direct-pickup"])
        if self.r.random() < 0.5:
            self.rig.pedals[name] |= {"transistors": "germanium", "ground": "positive", "needs": "8-9.6V dc centre-positive 2mA"}
        return name

    def _treadle(self, kind: str) -> str:
        if kind == "wah":
            name = self._add(_sort("wah", 3, 8, coil="yes", buffered_out="yes", zout="1k", bypass="true-bypass"))
        else:
            name = self._add(_sort("volume-pedal", 0, 0, pot="25k"))
        self.rig.pedals[name] |= {"size": [100, 255, 80], "weight": "1400 g", "held_by": "brackets"}
        return name

    def _helpers_and_drives(self, count: int) -> list[str]:
        """Helpers, then drives, then what is set behind them; at most one boost, and gains that add up to little."""
        r = self.r
        helpers = min(3, count // 4)
        drives = min(8, max(1, count // 3)) if count else 0
        rest = count - helpers - drives
        names = [self._add(r.choice(_EARLY), bypass="true-bypass") for _ in range(helpers)]
        names += [self._add(r.choice(_DRIVES), bypass="true-bypass") for _ in range(drives)]
        if rest >= 3:
            names.append(self._add(_sort("noise-gate", 10, 20), key="guitar", bypass="true-bypass"))
            names.append(self._add(_sort("boost", 5, 10, gain="0 to 6 dB", max_out="8 dBu"), bypass="true-bypass"))
            rest -= 2
        if rest >= 2 and r.random() < 0.5:
            names.append(self._add(_sort("equaliser", 20, 60, gain="-6 to 2 dB", max_out="8 dBu"), bypass="true-bypass"))
            rest -= 1
        return names + [self._add(r.choice(_TONE), bypass="true-bypass") for _ in range(rest)]

    def _loops(self, chain: list[str]) -> tuple[list[str], set[str]]:
        """On larger boards, a switcher with a loop for each of a stretch of boxes."""
        r, rig = self.r, self.rig
        may = [name for name in chain if rig.pedals[name]["kind"] not in ("fuzz", "tuner", "wah", "volume-pedal")]
        if len(may) < 3 or r.random() < 0.35:
            return chain, set()
        # what stands together in the chain stays together in the loops
        first = chain.index(may[0])
        stretch = []
        for name in chain[first:]:
            if name not in may or len(stretch) == 12:
                break
            stretch.append(name)
        if len(stretch) < 3:
            return chain, set()
        loops: dict[int, Any] = {}
        waiting = list(stretch)
        while waiting:
            take = 2 if len(waiting) > 1 and r.random() < 0.2 else 1
            loops[len(loops) + 1] = waiting[0] if take == 1 else waiting[:2]
            del waiting[:take]
        for name in stretch:
            del rig.pedals[name]["bypass"]
            rig.pedals[name]["stepped"] = "no"
        hub = {
            "needs": f"9V dc centre-negative {r.randint(150, 300)}mA", "digital": "yes", "buffer": "in", "unpowered": "passes",
            "size": [90 * len(loops), 120, 60], "weight": "1800 g", "stepped": "yes", "switch_pitch": 85, "loops": loops,
        }  # fmt: skip
        if rig.on_stage and self.amps > 1:
            hub["relays"] = {"r1": {"contact": "normally-open", "floating": "yes"}}
        rig.section("switchers")["hub"] = hub
        self.order = ["hub", *(name for name in self.order if name not in stretch), *stretch]
        after = chain.index(stretch[-1]) + 1
        return [*chain[:first], "hub", *chain[after:]], set(stretch)

    def _tuner_aside(self, chain: list[str], tuner: str) -> None:
        """The tuner on an output of the switcher instead of in the way of the sound."""
        chain.remove(tuner)
        self.rig.pedals[tuner]["send_only"] = "yes"
        self.rig.hub["outs"] = {"tuner": "start"}
        self._hop("hub.tuner", tuner)

    def _blend(self, chain: list[str]) -> None:
        """Somewhere between two boxes, two ways side by side: one plain, one through a box that comes neither late nor upside down."""
        pairs = {f"{a} > {b}" for a, b in itertools.pairwise(chain)}
        may = [entry for entry in self.rig.audio if entry["path"] in pairs and "wah" not in entry["path"]]
        if not may:
            return
        entry = self.r.choice(may)
        start, end = entry["path"].split(" > ")
        par, blend = self._add(_sort("splitter", 15, 30)), self._add(_sort("mixer", 15, 30))
        odd = self._add(self.r.choice((_TONE[0], _TONE[1], _TONE[3])), bypass="true-bypass")
        for name in (par, blend):
            self.rig.pedals[name]["stepped"] = "no"
        entry["path"] = f"{start} > {par}"
        for path in (f"{par}.a > {blend}.in_1", f"{par}.b > {odd}", f"{odd} > {blend}.in_2", f"{blend} > {end}"):
            self.rig.audio.append({"path": path})

    def _amp_names(self) -> list[str]:
        return [f"amp_{number}" for number in range(1, self.amps + 1)]

    def _straight(self, chain: list[str], echoes: list[str]) -> None:
        """One box after the other, then to the amplifiers."""
        rig = self.rig
        if rig.shape == "own-loop":
            self._around_the_amp(chain, echoes)
            return
        both_sides = rig.shape == "stereo" and len(echoes) > 1 and self.r.random() < 0.5
        chain = chain + echoes
        self._enter(chain[0])
        for a, b in itertools.pairwise(chain):
            if both_sides and b == chain[-1]:
                rig.pedals[a]["channels"], rig.pedals[b]["channels"] = {"in": 1, "out": 2}, {"in": 2, "out": 2}
                self._hop(f"{a}.out_l", f"{b}.in_l")
                self._hop(f"{a}.out_r", f"{b}.in_r")
            else:
                self._hop(a, b)
        last = chain[-1]
        match rig.shape:
            case "one":
                self._leave(last, "amp_1")
            case "desk":
                di = self._add(_sort("di", 0, 0, screen="through"))
                rig.pedals[di]["stepped"] = "no"
                self._hop(last, di)
                self._off_board(di, "desk.xlr_1", 8, plug="XLR")
            case "stereo":
                rig.pedals[last].setdefault("channels", {"in": 1, "out": 2})
                self._leave(f"{last}.out_l", "amp_1")
                self._leave(f"{last}.out_r", "amp_2")
            case "all":
                split = self._add(_sort("splitter", 15, 30))
                rig.pedals[split]["stepped"] = "no"
                self._hop(last, split)
                for way, amp in zip("abcd", self._amp_names(), strict=False):
                    self._leave(f"{split}.{way}", amp)
            case "choice":
                rig.section("switchers")["aby"] = {"select": {"a": "amp_1", "b": "amp_2"}, "size": [72, 120, 55], "weight": "300 g"}
                self.order.append("aby")
                self._hop(last, "aby")
                self._leave("aby.a", "amp_1")
                self._leave("aby.b", "amp_2")

    def _around_the_amp(self, chain: list[str], echoes: list[str]) -> None:
        """Drives into the amplifier's input, echoes between its own send and return."""
        self._enter(chain[0])
        for row in (chain, echoes):
            for a, b in itertools.pairwise(row):
                self._hop(a, b)
        self._leave(chain[-1], "amp_1")
        self._off_board("amp_1.send", echoes[0], 6)
        self._off_board(echoes[-1], "amp_1.return", 6)

    def _wet_dry(self, chain: list[str], echoes: list[str]) -> None:
        """The bare sound to the first amplifier; behind a box that gives its effect alone, to all others."""
        rig = self.rig
        self._enter(chain[0])
        for a, b in itertools.pairwise(chain):
            self._hop(a, b)
        split = self._add(_sort("splitter", 15, 30))
        rig.pedals[split]["stepped"] = "no"
        self._hop(chain[-1], split)
        self._leave(f"{split}.a", "amp_1")
        rig.pedals[echoes[0]] |= {"mix": "wet-only"}
        del rig.pedals[echoes[0]]["dry_through"]
        self._hop(f"{split}.b", echoes[0])
        for a, b in itertools.pairwise(echoes):
            self._hop(a, b)
        last = echoes[-1]
        if self.amps == 2:
            self._leave(last, "amp_2")
            return
        rig.pedals[last]["channels"] = {"in": 1, "out": 2}
        self._leave(f"{last}.out_l", "amp_2")
        self._leave(f"{last}.out_r", "amp_3")
        if self.amps == 4:
            self._leave(f"{split}.c", "amp_4")

    def _enter(self, first: str) -> None:
        self._off_board("guitar", first, self.guitar_lead)

    def _leave(self, jack: str, amp: str) -> None:
        """To the first amplifier straight, to any other through a transformer."""
        if amp != "amp_1":
            iso = f"iso_{amp[-1]}"
            self.rig.section("isolators")[iso] = {"kind": "transformer", "ratio": "1:1", "zin": "10k", "max_level": "12 dBu", "screen": "lifted"}
            self._hop(jack, iso)
            jack = iso
        self._off_board(jack, amp, 6)

    def _amps(self) -> None:
        r, rig = self.r, self.rig
        if rig.shape == "desk":
            rig.amps["desk"] = {"kind": "desk", "class": "I", "mark": "yes", "input": self._label(), "phantom": "on", "load": "60 VA", "circuit": "stage"}
            return
        quiet = rig.shape == "one" and self.purpose == "home" and r.random() < 0.5
        if quiet:
            rig.amps["amp_1"] = {"kind": "solid-state", "class": "II", "mark": "yes", "input": self._label(), "load": "60 VA", "circuit": "stage"}
            return
        for name in self._amp_names():
            said = {"kind": "valve", "class": "I", "mark": "yes", "input": self._label(), "earth_bond": "hard", "circuit": "stage"}
            rig.amps[name] = said | {"speaker": "8 ohm", "polarity": "same", "load": "180 VA"}
        if rig.shape == "own-loop":
            rig.amps["amp_1"]["loop"] = {"send": "yes", "return": "yes", "level": "instrument"}
        if self.amps > 1:
            rig.amps["amp_1"]["required"] = "yes"
        if rig.shape == "choice":
            # one is heard and the other earths the board, so both always come along
            rig.amps["amp_2"]["required"] = "yes"
        if rig.shape == "wet-dry":
            for name in self._amp_names():
                rig.amps[name]["role"] = "dry" if name in ("amp_1", "amp_4") else "wet"

    def _label(self) -> str:
        return "120V ac 60Hz" if _PLACES[self.country] == 120 else "230V ac 50Hz"

    def _presets(self) -> None:
        r, rig = self.r, self.rig
        presets = rig.section("presets")
        if rig.hub:
            loops = list(rig.hub["loops"])
            for number in range(r.randint(2, 6)):
                presets[f"song_{number + 1}"] = {"hub": sorted(r.sample(loops, r.randint(1, min(3, len(loops))))), "louder": "yes"}
        if rig.shape == "choice":
            for number, way in enumerate("ab", 1):
                presets[f"way_{number}"] = {"select": {"aby": way}}

    def _midi_and_control(self, echoes: list[str]) -> None:
        r, rig = self.r, self.rig
        if rig.hub and len(echoes) >= 2 and r.random() < 0.7:
            rig.hub["midi"] = {"sends": [number for number, _ in enumerate(echoes, 1)]}
            for number, name in enumerate(echoes, 1):
                rig.pedals[name]["midi"] = {"channel": number, "thru": "hard", "jack": "din"}
            rig.sections["midi"] = [" > ".join(["hub.midi_1", *echoes])]
        control = []
        if self.devices >= 6 and r.random() < 0.4:
            rig.pedals["xp"] = {"kind": "expression-pedal", "needs": "none", "size": [100, 255, 80], "weight": "1100 g", "held_by": "brackets"}
            self.order.append("xp")
            rig.pedals[echoes[-1]]["exp"] = {"wiper": "tip", "pot": "10k to 50k"}
            control.append({"from": "xp", "to": f"{echoes[-1]}.exp", "plug": "TRS", "wiper": "tip", "pot": "10k"})
        if rig.hub and "relays" in rig.hub:
            control.append({"from": "hub.r1", "to": "amp_2.channel", "plug": "TS", "isolated": "yes", "length": "6 m"})
        if control:
            rig.sections["control"] = control
        if r.random() < 0.3:
            rig.section("computers")["phone"] = {"kind": "telephone", "power": "battery"}
            rig.sections["usb"] = [{"from": echoes[-1], "to": "phone", "when": "service"}]

    def _promises(self, echoes: list[str]) -> None:
        rig, promises = self.rig, []
        first = next(iter(rig.amps))
        if rig.shape != "choice":
            promises.append({"always": {"hears": first, "from": "guitar", "unless": "quiet"}})
        if rig.amps[first]["class"] == "I":
            promises.append({"always": "one-earth"})
        if rig.shape == "wet-dry":
            promises.append({"never": {"sound_of": echoes, "reaches": "amp_1"}})
        rig.sections["promises"] = promises

    # --- power and the wall -------------------------------------------------------------------------------------------

    def _power(self) -> None:
        """An isolated outlet for each box that is digital, thirsty or loud; here and there two quiet ones on a chain."""
        r, rig = self.r, self.rig
        hungry = [name for name in [*rig.section("switchers"), *rig.pedals] if rig.boxes()[name].get("needs", "none") != "none"]
        groups: list[list[str]] = []
        for name in hungry:
            calm = rig.boxes()[name].get("kind") in ("chorus", "phaser", "tremolo", "vibrato") and "digital" not in rig.boxes()[name]
            if calm and r.random() < 0.25:
                if groups and len(groups[-1]) == 1 and rig.boxes()[groups[-1][0]].get("kind") in ("phaser", "tremolo", "vibrato"):
                    groups[-1].append(name)
                    continue
            elif "digital" not in rig.boxes()[name] and rig.boxes()[name].get("kind") in ("boost", "equaliser") and r.random() < 0.3:
                rig.boxes()[name]["needs"] = rig.boxes()[name]["needs"].replace("9V", r.choice(("18V", "12V")))
            groups.append([name])
        bricks = [groups[first : first + 8] for first in range(0, len(groups), 8)]
        for number, outlets in enumerate(bricks, 1):
            self._brick(f"brick_{number}", outlets, last=number == len(bricks))
        self._feed_bricks([f"brick_{number}" for number, _ in enumerate(bricks, 1)])

    def _brick(self, name: str, groups: list[list[str]], last: bool) -> None:
        rig = self.rig
        outlets: dict[str, Any] = {}
        taken = 0.0
        for number, group in enumerate(groups, 1):
            outlet = f"{name}.{number}"
            drawn = sum(rig.drawn(box) for box in group)
            taken += drawn / 1000 * volts(rig.boxes()[group[0]]["needs"].replace("8-9.6V", "9V"))
            rating = next(each for each in (100, 150, 200, 300, 400, 500, 600, 800) if each >= drawn * 1.5)
            phrase = rig.boxes()[group[0]]["needs"].split(" ", 1)[0].replace("8-9.6V", "9V")
            outlets[str(number)] = f"{phrase} dc centre-negative {rating}mA"
            for place, box in enumerate(group):
                rig.boxes()[box]["feed"] = outlet if place == 0 else {"from": outlet, "after": group[0]}
            if "centre-positive" in rig.boxes()[group[0]]["needs"]:
                rig.boxes()[group[0]]["feed"] = {"from": outlet, "lead": {"reverses": "yes"}}
        outlets[str(len(outlets) + 1)] = "9V dc centre-negative 300mA"
        if last:
            outlets[str(len(outlets) + 1)] = "9V dc centre-negative 300mA"
        rig.supplies[name] = {
            "kind": "switch-mode", "isolated": "yes", "total": f"{max(8, round(taken * 1.5 + 3))} W", "efficiency": "85 %", "ventilated": "yes",
            "size": [220, 90, 30], "weight": "600 g", "outlets": outlets,
        }  # fmt: skip

    def _feed_bricks(self, bricks: list[str]) -> None:
        """One or two bricks hang on the wall; more of them on a unit on the floor, at low voltage."""
        rig = self.rig
        wall = {"input": "100-240V ac 50/60Hz", "class": "II", "mark": "yes"}
        if len(bricks) <= 2 and self.r.random() < 0.7:
            for name in bricks:
                rig.supplies[name] = wall | rig.supplies[name]
            return
        outlets = {}
        for number, name in enumerate(bricks, 1):
            rig.supplies[name] = {
                "class": "III", "needs": "24V dc centre-positive 1500mA 4-pin", "feed": {"from": f"floor_unit.{number}", "lead": {"length": "1500 mm", "gauge": "18 AWG"}},
                **rig.supplies[name],
            }  # fmt: skip
            outlets[str(number)] = "24V dc centre-positive 2500mA 4-pin"
        rig.supplies["floor_unit"] = wall | {
            "kind": "switch-mode", "isolated": "yes", "total": f"{40 * len(bricks)} W", "efficiency": "88 %", "ventilated": "yes",
            "size": [300, 140, 70], "weight": "1500 g", "outlets": outlets,
        }  # fmt: skip

    def _wall(self) -> None:
        rig = self.rig
        corded = [name for name, said in {**rig.amps, **rig.supplies}.items() if "input" in said]
        earthed = [name for name in corded if {**rig.amps, **rig.supplies}[name]["class"] == "I"]
        rig.sections["mains"] = {
            "on_board": "no",
            "blocks": {"block": {"outlets": len(corded) + 2, "rating": "15 A", "fed_from": "stage", "earth_checked": "yes", "feeds": corded}},
            "cords": {f"cord_{name}": {"from": "block", "to": name, "cores": 3, "rating": "10 A", "earth_lifted": "no"} for name in earthed},
        }
        if not rig.sections["mains"]["cords"]:
            del rig.sections["mains"]["cords"]

    # --- in space -----------------------------------------------------------------------------------------------------

    def _places(self) -> None:
        """Rows from the front, filled from the right as the sound goes; treadles at the right end across the first two rows."""
        rig = self.rig
        boxes = rig.boxes()
        treadles = [name for name in self.order if boxes[name].get("size", [0, 0])[1] > 200]
        others = [name for name in self.order if name not in treadles]
        total = sum(boxes[name]["size"][0] + self.gap for name in others)
        rows = 1 if total < 600 else 2 if total < 1500 else 3 if total < 3000 else 4
        room = max(total / rows + 140, *(boxes[name]["size"][0] + 80 for name in others), 260 * max(1, (len(rig.supplies) + rows - 1) // rows))
        filled: list[list[str]] = [[]]
        used = 0.0
        for name in others:
            wide = boxes[name]["size"][0] + self.gap
            if used + wide > room - 20:
                filled.append([])
                used = 0.0
            filled[-1].append(name)
            used += wide
        depth = max(len(filled), 2 if treadles else 1)
        width = round(room) + 130 * len(treadles) + 20
        for number, row in enumerate(filled):
            x = round(room) - 10
            for name in row:
                x -= boxes[name]["size"][0]
                boxes[name] |= {"at": [x, _ROW * number + 10]} | ({"jacks": "rear"} if self.rear else {})
                x -= self.gap
        for number, name in enumerate(treadles):
            boxes[name] |= {"at": [round(room) + 30 + 130 * number, 25], "jacks": "rear", "across_rows": "yes"}
        rig.rows = [list(reversed(row)) for row in filled]
        board = rig.sections["board"]
        board["fixing"] = "hook-and-loop"
        spans = [{"span": [_ROW * number + (1 if number else 0), _ROW * (number + 1) + (15 if number == depth - 1 else 0)], "rise": 30 * number} for number in range(depth)]
        board["frame"] = {"size": [width, _ROW * depth + 15], "material": self.r.choice(("metal", "wood")), "gap_under": [50, 60 + 20 * depth], "rows": spans}
        # what is too heavy for one gets a case that several can lift
        if self.devices > 20 or (rig.on_stage and self.r.random() < 0.6):
            high = 30 * (depth - 1) + 110
            board["case"] = {"inside": [width + 40, _ROW * depth + 55, high + 60], "lid_clear": high, "empty_weight": "9 kg", "wheels": "yes", "lifters": 4}
        self._supplies_below(width, depth)

    def _supplies_below(self, width: int, depth: int) -> None:
        """Bricks hang below the deck, clear of treadles; what hangs on the wall stays on the floor where there are many."""
        rig = self.rig
        x, row = 20, depth - 1
        for name, said in rig.supplies.items():
            if name == "floor_unit":
                continue
            if x + 220 > width - 150 and row:
                x, row = 20, row - 1
            if x + 220 > width - 20 or (row < 2 and any("across_rows" in each for each in rig.pedals.values()) and x + 220 > width - 300):
                continue
            said |= {"under": "yes", "at": [x, _ROW * row + 30], "held_by": "brackets"}
            x += 260

    def _runs(self) -> None:
        """A few leads drawn in full: patches between neighbours, and the way out along the back."""
        rig = self.rig
        boxes = rig.boxes()
        runs: list[dict[str, Any]] = []
        depth = rig.sections["board"]["frame"]["size"][1]
        for row in rig.rows:
            neighbours = list(zip(row[1:], row, strict=False))
            for number, (a, b) in enumerate(neighbours):
                if number < 4 and any((start, end) == (a, b) for _, start, end in rig.hops()):
                    runs.append(self._straight_run(f"patch_{len(runs) + 1}", "audio", f"{a} > {b}", self._rear(boxes[a], 12), self._rear(boxes[b], 12)))
        for name, said in rig.supplies.items():
            first = next((box for box in rig.fed() if rig.outlet_of(box) == f"{name}.1"), None)
            if first and "at" in said and "at" in boxes[first]:
                x, y = boxes[first]["at"][0] + 20, depth - 8
                run = self._straight_run("power_1", "dc", f"{name}.1 > {first}", (x, y), (x, y - 60))
                if not any(abs(point[0] - x) < 60 for each in runs for point in each["path"]):
                    rig.sections["openings"] = {"hole": {"dia": 25, "edge": "metal", "grommet": "yes"}}
                    runs.append(run | {"under": "yes", "holes": ["hole"]})
                break
        entry = next(entry for entry, start, _ in rig.hops() if start == "guitar")
        first = entry["path"].split(" > ")[1]
        if "at" in boxes.get(first, {}):
            x, y = self._rear(boxes[first], 15)
            runs.append({"id": "way_in", "carries": "audio", "joins": entry["path"], "leaves_board": "yes", "anchor": "yes", "od": 6, "path": [[x, y], [x + 60, y]]})
        rig.sections["runs"] = runs

    @staticmethod
    def _rear(box: dict[str, Any], behind: int) -> tuple[int, int]:
        return box["at"][0] + box["size"][0] // 2, box["at"][1] + box["size"][1] + behind

    @staticmethod
    def _straight_run(name: str, carries: str, joins: str, a: tuple[int, int], b: tuple[int, int]) -> dict[str, Any]:
        way = abs(a[0] - b[0]) + abs(a[1] - b[1])
        length = 10 * round((way * 1.05 + 100) / 10)
        run = {"id": name, "carries": carries, "joins": joins, "path": [list(a), list(b)], "length": f"{length} mm", "cut": f"{length + 25} mm", "made": "soldered", "od": 4 if carries == "audio" else 3}
        return run | ({"ties": [50, *range(200, way, 150)]} if way > 150 else {})

    # --- what lies in the lid -----------------------------------------------------------------------------------------

    def _lid(self) -> None:
        if not self.rig.on_stage:
            return
        longest = max((float(entry["lead"]["length"].split()[0]) for entry in self.rig.audio if "lead" in entry), default=6)
        spares: list[dict[str, Any]] = [
            {"carries": "audio", "length": f"{longest:g} m", "rescue": "yes"}, {"carries": "audio", "length": "1200 mm"}, {"carries": "dc", "length": "1200 mm"},
        ]  # fmt: skip
        if self.rig.shape == "desk":
            spares.append({"carries": "audio", "length": "8 m", "plug": "XLR"})
        if any("4-pin" in said.get("needs", "") for said in self.rig.supplies.values()):
            spares.append({"carries": "dc", "length": "2 m", "plug": "4-pin"})
        if any("centre-positive" in str(said.get("needs")) for said in self.rig.pedals.values()):
            spares.append({"carries": "dc", "length": "1200 mm", "reverses": "yes"})
        if "midi" in self.rig.sections:
            spares.append({"carries": "midi", "length": "1 m"})
        self.rig.sections["spares"] = spares
        papers = ["signal-drawing", "power-map", "lead-list", "settings-photo", "serial-list", "spares-list", "quiet-card", "date-and-maker"]
        self.rig.sections["papers"] = papers + ["preset-list"] * bool(self.rig.sections.get("presets")) + ["midi-map"] * ("midi" in self.rig.sections)


    # --- what was done and read ---------------------------------------------------------------------------------------

    def _bench(self) -> None:
        """On some boards the steps of the build and what the meter said; on the stage, when things were last seen to."""
        rig = self.rig
        if rig.on_stage:
            seen_to = dict.fromkeys(("leads", "fasteners", "jacks", "fans", "mains_test"), "2030-04-20")
            rig.sections["upkeep"] = {"today": "2030-05-08", **seen_to}
        if self.r.random() < 0.6:
            return
        steps: list[dict[str, Any]] = []
        for row, _ in enumerate(rig.rows or [[]], 1):
            steps += [{"do": do, "row": row} for do in ("place", "power", "meter", "audio", "listen")]
        rig.sections["steps"] = steps
        readings: list[dict[str, Any]] = []
        for name, box in {**rig.fed(), **{name: said for name, said in rig.supplies.items() if "feed" in said}}.items():
            inside = -1 if "centre-negative" in box["needs"] else 1
            readings.append({"where": name, "what": "volts", "got": f"{inside * volts(rig.gives(rig.outlet_of(name))):g} V"})
        if made := [run["id"] for run in rig.sections.get("runs", []) if "made" in run and run["carries"] == "audio"]:
            readings.append({"where": made, "what": "ohms", "of": "all", "condition": "flexed", "got": "good"})
        rig.sections["readings"] = readings


def good_board(seed: int) -> Rig:
    """The board of a seed: the same one every time."""
    return _Builder(seed).build()
