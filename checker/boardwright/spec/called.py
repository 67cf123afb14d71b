"""What people call things that the language has another word for. Spelling alone would guess `mains` for a `chain`."""

from __future__ import annotations

_SAME: dict[str, str] = {
    # sections
    "audio": "chain, signal, signal chain, signal path, signal flow, sound, routing, patch, patching, wiring, cables, connections",
    "supplies": "power, psu, power supply, power supplies, adapter, adaptor, brick, wall wart, outlets",
    "pedals": "effects, fx, effect pedals, stompboxes, stomps, boxes, units",
    "amps": "amplifier, combos, speakers, cabs, heads",
    "switchers": "loopers, loop switchers, loops, routers, controllers",
    "isolators": "di boxes, direct boxes, transformers, isolation",
    "computers": "laptop, pc, tablet, phone",
    "instruments": "bass, keyboard, synth, microphone",
    "place": "venue, location, country, where",
    "presets": "scenes, patches, programs, programmes, songs, banks",
    "promises": "guarantees, requirements, wishes, checks",
    "runs": "routes, cable runs",
    "openings": "holes, cutouts",
    "board": "pedalboard, frame",
    "accept": "ignore, silence, allow",
    # what a pedal does, what an amplifier is
    "valve": "tube, valves, tubes",
    "valve-preamp": "tube preamp, tube, valve",
    "solid-state": "transistor",
    "desk": "pa, mixer, mixing desk, mixing console, console, foh",
    "powered-speaker": "active speaker, monitor, full range",
    "interface": "sound card, soundcard",
    "cabinet": "cab, speaker",
    "modeller": "modeler, multi effect, multi effects, multi fx, multifx",
    "amp-simulator": "amp sim, cab sim, speaker simulator, impulse response, ir loader",
    "overdrive": "drive, od",
    "delay": "echo",
    "pitch": "harmoniser, harmonizer, shifter, detune",
    "envelope-filter": "auto wah, autowah, touch wah, filter",
    "equaliser": "eq, tone",
    "compressor": "limiter, sustainer",
    "load-box": "attenuator",
    "di": "direct box, direct",
    "looper": "loop station",
    "single-coil": "single, singles",
    "humbucker": "double, doubles",
    # keys
    "needs": "voltage, volts, draw, draws, consumption, requires, current, amps, power, power needs",
    "gives": "voltage, volts, output, current, power",
    "feed": "powered by, fed by, from, supply, psu, source",
    "kind": "type, effect, category, sort",
    "size": "dimensions, dims, footprint",
    "at": "position, pos, location, xy",
    "outlets": "outputs, sockets, ports",
    "outs": "outputs",
    "zin": "impedance, input impedance",
    "zout": "output impedance",
    "total": "watts, wattage, power",
    "lead": "cable, cord, wire",
    "gauge": "awg, wire, thickness",
    "od": "diameter, thickness",
    "dia": "diameter",
    "earthed": "grounded, ground",
    "weight": "mass, heavy",
    "length": "long",
}
"""A word of the language, and what else it is called."""

CALLED: dict[str, list[str]] = {}
"""What somebody may write, and the words of the language that may be meant, the likelier first."""
for _word, _others in _SAME.items():
    for _other in _others.split(", "):
        CALLED.setdefault(_other, []).append(_word)


def meant_by(word: str, known: dict[str, str]) -> str | None:
    """The one of ``known`` (plain forms to words) that somebody calls ``word``, in one or in many."""
    for form in (word, word.removesuffix("s")):
        found = next((each for each in CALLED.get(form, ()) if each.replace("-", " ") in known), None)
        if found:
            return known[found.replace("-", " ")]
    return None
