"""Faults in the way of the sound."""

from __future__ import annotations

from random import Random
from typing import Any

from gauntlet.faults.registry import fault
from gauntlet.rig import Rig


def _of_kind(rig: Rig, *kinds: str, in_chain: bool = False) -> list[str]:
    return [name for name, said in rig.pedals.items() if said["kind"] in kinds and (not in_chain or name in rig.chain)]


def _inner(rig: Rig, r: Random) -> dict[str, Any] | None:
    """A lead from one box of the chain to the next."""
    pairs = {f"{a} > {b}" for a, b in zip(rig.chain, rig.chain[1:], strict=False)}
    may = [entry for entry in rig.audio if entry["path"] in pairs]
    return r.choice(may) if may else None


def _bare_pickup(rig: Rig) -> bool:
    """Whether the guitar cares what it is plugged into: an active pickup does not."""
    return rig.sections["guitar"]["pickups"] != "active"


def _passive(kind: str, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "needs": "none", **more}


def _last_leads(rig: Rig) -> list[dict[str, Any]]:
    return [entry for entry, _, end in rig.hops() if end.split(".")[0] in rig.amps]


@fault("promise-broken", "fault", "a promise that a drive is never heard in the amplifier that it leads to")
def impossible_promise(rig: Rig, r: Random):
    drives = _of_kind(rig, "overdrive", "distortion")
    amp = next(iter(rig.amps))
    if not drives:
        return None
    name = r.choice(drives)
    rig.sections.setdefault("promises", []).append({"never": {"sound_of": [name], "reaches": amp}})
    return [name, amp]


@fault("signal-path-broken", "fault", "a lead missing in the middle of the chain")
def lead_missing(rig: Rig, r: Random):
    if not (entry := _inner(rig, r)):
        return None
    rig.audio.remove(entry)
    return [*entry["path"].split(" > "), *rig.amps]


@fault("signal-path-broken", "risk", "a box that no lead leads on from")
def dead_end(rig: Rig, r: Random):
    """A splitter's second output into a box that leads nowhere."""
    if not rig.chain:
        return None
    name = r.choice(rig.chain)
    if rig.pedals.get(name, {}).get("channels"):
        return None
    rig.pedals["stray"] = _passive("chorus")
    rig.audio.append({"path": f"{name}.out_2 > stray"})
    return ["stray"]


@fault("send-without-return", "fault", "two loops whose returns have changed places")
def crossed_returns(rig: Rig, r: Random):
    if not rig.hub:
        return None
    loops = rig.hub["loops"]
    single = [number for number, unit in loops.items() if isinstance(unit, str)]
    if len(single) < 2:
        return None
    a, b = r.sample(single, 2)
    one, other = loops[a], loops[b]
    loops[a], loops[b] = {"send_to": one, "return_from": other}, {"send_to": other, "return_from": one}
    return [f"hub loop {a}", f"hub loop {b}"]


@fault("send-without-return", "fault", "a loop whose sound does not come home")
def no_return(rig: Rig, r: Random):
    if not rig.hub:
        return None
    loops = rig.hub["loops"]
    single = [number for number, unit in loops.items() if isinstance(unit, str)]
    if not single:
        return None
    number = r.choice(single)
    loops[number] = {"send_to": loops[number]}
    return [f"hub loop {number}"]


@fault("outputs-joined-together", "fault", "two outputs into one input")
def joined(rig: Rig, r: Random):
    if len(rig.chain) < 4:
        return None
    at = r.randrange(len(rig.chain) - 2)
    source, target = rig.chain[at], rig.chain[at + 2]
    if rig.pedals.get(source, {}).get("channels"):
        return None
    rig.audio.append({"path": f"{source}.out > {target}.in"})
    entry = rig.hop_into(target)
    entry["path"] = f"{rig.chain[at + 1]}.out > {target}.in"
    return [source, rig.chain[at + 1], target]


@fault("audio-feedback-ring", "fault", "a box's output led back to a mixer ahead of it")
def ring(rig: Rig, r: Random):
    if not (entry := _inner(rig, r)):
        return None
    start, end = entry["path"].split(" > ")
    if end == "hub" or end in rig.section("switchers") or rig.pedals[end].get("channels"):
        return None
    rig.pedals["mix"] = _passive("mixer", polarity="same")
    entry["path"] = f"{start} > mix.in_1"
    rig.audio.extend([{"path": f"mix.out > {end}"}, {"path": f"{end}.out_2 > mix.in_2"}])
    return ["mix", end]


@fault("bridging-ratio-too-low", "risk", "an input of 10 kΩ behind an output of 10 kΩ")
def heavy_input(rig: Rig, r: Random):
    pairs = [
        (a, b) for a, b in zip(rig.chain, rig.chain[1:], strict=False)
        if {a, b} <= set(rig.pedals) and rig.pedals[a]["kind"] in ("overdrive", "distortion", "chorus", "phaser", "boost", "equaliser", "compressor")
        and rig.pedals[b]["kind"] not in ("wah", "fuzz", "volume-pedal", "di")
    ]  # fmt: skip
    if not pairs:
        return None
    a, b = r.choice(pairs)
    rig.pedals[a]["zout"], rig.pedals[b]["zin"] = "10k", "10k"
    return [a, b]


@fault("unbuffered-cable-dulls-pickup", "risk", "15 m of cable on the pickup")
def long_lead(rig: Rig, r: Random):
    if not _bare_pickup(rig):
        return None
    rig.sections["guitar"]["lead"]["length"] = "15 m"
    rig.hop_from("guitar")["lead"]["length"] = "15 m"
    return ["guitar", rig.chain[0], rig.hop_from("guitar")["path"]]


@fault("tone-shifts-when-bypassed", "risk", "no buffer at all, and much cable behind the boxes")
def no_buffer(rig: Rig, r: Random):
    """Only where nothing but switched pedals stands between guitar and amplifier."""
    if rig.shape != "one" or rig.hub or not _bare_pickup(rig) or any(rig.pedals[name]["kind"] in ("fuzz", "wah", "volume-pedal") for name in rig.chain):
        return None
    for name in rig.chain:
        rig.pedals[name]["bypass"] = "true-bypass"
    for lead in (rig.hop_from("guitar")["lead"], _last_leads(rig)[0]["lead"], rig.sections["guitar"]["lead"]):
        lead |= {"length": "12 m", "capacitance": "120 pF/m"}
    return ["guitar", *rig.chain]


@fault("fuzz-behind-buffer", "risk", "a buffer ahead of a fuzz that wants the bare pickup")
def buffered_fuzz(rig: Rig, r: Random):
    if not (fuzz := _of_kind(rig, "fuzz")):
        return None
    rig.insert(rig.hop_into(fuzz[0]), "early", _passive("buffer"))
    return [fuzz[0]]


@fault("wah-into-low-impedance-fuzz", "risk", "a classic wah straight ahead of a classic fuzz")
def wah_fuzz(rig: Rig, r: Random):
    if not (fuzz := _of_kind(rig, "fuzz")):
        return None
    rig.insert(rig.hop_into(fuzz[0]), "old_wah", _passive("wah", bypass="true-bypass", zout="10k", coil="yes"))
    return ["old_wah", fuzz[0]]


@fault("buffer-pile-up", "advice", "every box of a long chain buffered")
def buffers(rig: Rig, r: Random):
    switched = [name for name in rig.chain if rig.pedals.get(name, {}).get("bypass")]
    if len(switched) < 8:
        return None
    for name in switched:
        rig.pedals[name]["bypass"] = "buffered"
    return [*rig.chain, *rig.amps]


@fault("level-class-mismatch", "risk", "a player at professional line level into an input for pickups")
def too_loud(rig: Rig, r: Random):
    if not (names := _of_kind(rig, "fuzz", "compressor", in_chain=True)):
        return None
    name = r.choice(names)
    rig.section("instruments")["player"] = {"kind": "playback", "level": "line-professional"}
    rig.pedals[name]["level"] = "pickup"
    rig.hop_into(name)["path"] = f"player > {name}"
    return ["player", name]


@fault("headroom-clipped", "risk", "20 dB of boost into a clean box of 9 V")
def clipped(rig: Rig, r: Random):
    clean = [name for name in _of_kind(rig, "chorus", "phaser", "flanger", "tremolo", "vibrato", in_chain=True) if rig.pedals[name]["needs"].startswith("9V")]
    if not clean:
        return None
    name = r.choice(clean)
    rig.sections["guitar"]["level"] = "1 V"
    rig.insert(rig.hop_into(name), "hot_boost", _passive("boost", gain="0 to 20 dB", max_out="24 dBu", polarity="same", bypass="true-bypass"))
    return [name, "hot_boost"]


def _sides(rig: Rig) -> list[tuple[dict[str, Any], str]] | None:
    """The two leads from a stereo box to two amplifiers, each with where it begins."""
    sides = [(entry, start) for entry, start, _ in rig.hops() if start.endswith((".out_l", ".out_r"))]
    return sides if len(sides) == 2 else None


@fault("stereo-collapsed-on-the-way", "risk", "a mono box between a stereo box and two amplifiers")
def collapsed(rig: Rig, r: Random):
    if not (sides := _sides(rig)):
        return None
    box = sides[0][1].split(".")[0]
    rig.pedals["narrow"] = _passive("tremolo", channels={"in": 1, "out": 1}, polarity="same", bypass="buffered")
    for number, (entry, start) in enumerate(sides):
        entry["path"] = entry["path"].replace(start, "narrow" if number == 0 else "narrow.out")
    rig.audio.append({"path": f"{box}.out_l > narrow"})
    return [box, "narrow"]


@fault("stereo-collapsed-on-the-way", "risk", "both amplifiers on one side of a stereo box")
def one_side(rig: Rig, r: Random):
    if not (sides := _sides(rig)):
        return None
    for entry, start in sides:
        entry["path"] = entry["path"].replace(start, start.split(".")[0] + ".out_l")
    return [sides[0][1].split(".")[0]]


@fault("trs-ts-audio-mismatch", "risk", "a plug of two contacts in a stereo jack")
def contacts(rig: Rig, r: Random):
    may = [(entry, start) for entry, start, _ in rig.hops() if start in rig.pedals]
    if not may:
        return None
    entry, start = r.choice(may)
    rig.pedals[start]["jacks"] = {"out": {"side": "rear", "type": "TRS-stereo"}}
    entry["path"] = entry["path"].replace(f"{start} >", f"{start}.out >")
    entry.setdefault("lead", {})["plug"] = "TS"
    return [start, entry["path"]]


@fault("dry-amp-hears-wet", "fault", "an echo ahead of the split to the dry amplifier")
def wet_in_dry(rig: Rig, r: Random):
    if rig.shape != "wet-dry" or not (entry := _inner(rig, r)):
        return None
    rig.insert(entry, "stray_echo", _passive("delay", bypass="buffered", mix="blend", dry_through="yes", latency="1 ms", polarity="same"))
    return ["stray_echo", "amp_1"]


@fault("dry-doubled-through-wet-path", "risk", "an echo in the wet path that passes the dry sound by its converters")
def doubled(rig: Rig, r: Random):
    wet = [name for name, said in rig.pedals.items() if said.get("mix") == "wet-only"]
    if rig.shape != "wet-dry" or not wet:
        return None
    rig.pedals[wet[0]] |= {"mix": "blend", "dry_through": "digital"}
    return [wet[0], "amp_2"]


@fault("tails-cut-short", "advice", "trails wanted of a box with true bypass")
def no_tail(rig: Rig, r: Random):
    if not (names := _of_kind(rig, "delay", "reverb")):
        return None
    name = r.choice(names)
    rig.pedals[name] |= {"trails": "wanted", "bypass": "true-bypass"}
    return [name]


@fault("volume-pedal-wrong-for-its-place", "risk", "a volume pedal of 25 kΩ straight behind the pickup")
def low_volume(rig: Rig, r: Random):
    if not _bare_pickup(rig):
        return None
    rig.insert(rig.hop_from("guitar"), "early_volume", _passive("volume-pedal", pot="25k"))
    return ["early_volume"]


def _insert_in_branch(rig: Rig, r: Random, name: str, box: dict[str, Any]) -> list[str] | None:
    """Put a box into one of the ways from a splitter to its amplifiers."""
    if rig.shape != "all":
        return None
    ways = [entry for entry, start, _ in rig.hops() if start.startswith("splitter_")]
    rig.insert(r.choice(ways), name, box)
    return [name, *rig.amps]


@fault("parallel-latency-comb", "risk", "a modeller of 3 ms on the way to one of several amplifiers")
def late(rig: Rig, r: Random):
    return _insert_in_branch(rig, r, "late", _passive("modeller", latency="3 ms", polarity="same", level="instrument", bypass="always-on"))


@fault("parallel-latency-comb", "risk", "a late box on one of two ways into a mixer")
def late_in_mixer(rig: Rig, r: Random):
    return _beside(rig, r, latency="0.8 ms", polarity="same")


@fault("parallel-polarity-opposed", "risk", "a drive that inverts on the way to one of several amplifiers")
def inverted(rig: Rig, r: Random):
    return _insert_in_branch(rig, r, "turned", _passive("overdrive", polarity="inverts", bypass="true-bypass", latency="0 ms"))


@fault("parallel-polarity-opposed", "fault", "a box that inverts on one of two ways into a mixer")
def inverted_in_mixer(rig: Rig, r: Random):
    return _beside(rig, r, latency="0 ms", polarity="inverts")


def _beside(rig: Rig, r: Random, **of: Any) -> list[str] | None:
    """Replace a lead by two ways and a mixer, with a box on one of them."""
    if not (entry := _inner(rig, r)):
        return None
    start, end = entry["path"].split(" > ")
    rig.pedals.update({"par": _passive("splitter", polarity="same"), "blend": _passive("mixer", polarity="same"), "odd": _passive("chorus", bypass="true-bypass", **of)})
    entry["path"] = f"{start} > par"
    rig.audio.extend([{"path": path} for path in ("par.a > blend.in_1", "par.b > odd", "odd > blend.in_2", f"blend > {end}")])
    return ["par", "blend", "odd"]


@fault("expression-and-audio-jacks-crossed", "fault", "an expression pedal in the way of the sound")
def expression(rig: Rig, r: Random):
    if not (entry := _inner(rig, r)):
        return None
    rig.insert(entry, "not_for_sound", _passive("expression-pedal"))
    return ["not_for_sound"]


@fault("control-jack-wiring-mismatch", "risk", "an expression pedal whose wiper is on the other contact")
def wiper(rig: Rig, r: Random):
    lead = next((lead for lead in rig.sections.get("control", []) if lead["from"] == "xp"), None)
    if not lead:
        return None
    lead["wiper"] = "ring"
    return ["xp", lead["to"], lead["to"].split(".")[0]]


def _midi(rig: Rig) -> list[str]:
    chains = rig.sections.get("midi")
    return chains[0].split(" > ")[1:] if chains else []


@fault("midi-chain-unsound", "fault", "a box without thru in the middle of a chain")
def no_thru(rig: Rig, r: Random):
    names = _midi(rig)
    if len(names) < 2:
        return None
    name = r.choice(names[:-1])
    rig.pedals[name]["midi"]["thru"] = "none"
    return [name]


@fault("midi-chain-unsound", "fault", "the last box tied to the first")
def midi_ring(rig: Rig, r: Random):
    if len(names := _midi(rig)) < 2:
        return None
    rig.sections["midi"] = [" > ".join([*names, names[0]])]
    return names


@fault("midi-channel-clash", "risk", "two boxes on one channel")
def one_channel(rig: Rig, r: Random):
    if len(names := _midi(rig)) < 2:
        return None
    a, b = r.sample(names, 2)
    rig.pedals[a]["midi"]["channel"] = rig.pedals[b]["midi"]["channel"]
    return [a, b]


@fault("preset-leaves-silence", "fault", "a preset that chooses a way without an amplifier")
def silent(rig: Rig, r: Random):
    if rig.shape != "choice":
        return None
    rig.section("switchers")["aby"]["select"]["c"] = "none"
    rig.section("presets")["hush"] = {"select": {"aby": "c"}}
    return ["hush"]


@fault("preset-leaves-silence", "risk", "a quiet preset in which the amplifier is heard")
def not_quiet(rig: Rig, r: Random):
    if not rig.hub:
        return None
    name = r.choice([name for name in rig.section("presets") if name.startswith("song")])
    rig.section("presets")[name]["quiet"] = "yes"
    return [name]


@fault("detector-fed-processed-signal", "advice", "an octaver behind a drive")
def guessing(rig: Rig, r: Random):
    drives = [name for name in _of_kind(rig, "overdrive", "distortion") if name in rig.chain[:-1]]
    if not drives:
        return None
    name = r.choice(drives)
    entry = next(entry for entry, start, _ in rig.hops() if start == name)
    rig.insert(entry, "lost_octave", _passive("octave", latency="0 ms", bypass="true-bypass"))
    return ["lost_octave"]


@fault("speaker-output-meets-board", "danger", "a loudspeaker output led into a pedal")
def speaker(rig: Rig, r: Random):
    amp = r.choice(list(rig.amps))
    if rig.amps[amp]["kind"] == "desk":
        return None
    rig.pedals["victim"] = _passive("chorus", bypass="true-bypass")
    rig.audio.append({"path": f"{amp}.speaker_out > victim"})
    return [amp, "victim"]


@fault("speaker-output-meets-board", "fault", "a valve amplifier without a loudspeaker")
def no_speaker(rig: Rig, r: Random):
    valve = [name for name, said in rig.amps.items() if said["kind"] == "valve"]
    if not valve:
        return None
    name = r.choice(valve)
    rig.amps[name]["speaker"] = "none"
    return [name]


@fault("phantom-power-reaches-board", "fault", "a pedal that takes no 48 V on a desk's microphone input, without a direct box")
def phantom(rig: Rig, r: Random):
    if rig.shape != "desk":
        return None
    into, onward = rig.hop_into("di_1"), rig.hop_from("di_1")
    name = into["path"].split(" > ")[0]
    onward["path"] = f"{name} > desk.xlr_1"
    onward["lead"]["plug"] = "TS-to-XLR"
    rig.pedals[name]["phantom_ok"] = "no"
    rig.audio.remove(into)
    del rig.pedals["di_1"]
    for row in rig.rows:
        row[:] = [each for each in row if each != "di_1"]
    return [name, "desk"]
