/**
 * Stands in for the worker in tests of the page: it speaks the worker's messages, but its answers come from the test's
 * own Python, by way of `/fake-check`, so that no runtime need be started. A board's first line may ask for trouble:
 * `# wait 800`, `# fail`, `# crash` or `# silent`; `# draw 800` makes its drawings wait, and `# undrawn` fails to make them.
 */
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

async function begin() {
  for (const done of [1e6, 2e6, 3e6]) postMessage({ kind: "stage", stage: "Python", done_bytes: done, total_bytes: 3e6 });
  await pause(20);
  postMessage({ kind: "stage", stage: "The checker", done_bytes: 1e6, total_bytes: 1e6 });
  await pause(20);
  postMessage({ kind: "ready", seconds: 0.04 });
}

onmessage = async ({ data }) => {
  if (typeof data.text !== "string") return;
  const [, order, value] = data.text.match(/^# (wait|fail|crash|silent|draw|undrawn) ?(\d*)/) ?? [];
  if (order === "silent") return;
  if (order === "crash") return setTimeout(() => { throw new Error("out of memory"); });
  if (order === "fail") return postMessage({ kind: "failed", id: data.id, message: "the checker met an error of its own" });
  if (order === "wait") await pause(Number(value));
  if (data.kind === "hunt") {
    const answer = await (await fetch("/fake-hunt", { method: "POST", body: JSON.stringify([data.text, data.asked]) })).text();
    return postMessage({ kind: "answer", id: data.id, answer });
  }
  if (data.kind === "book") {
    const parts = await (await fetch("/fake-book", { method: "POST", body: data.text })).json();
    for (const part of parts) postMessage({ kind: "book", id: data.id, part });
    return;
  }
  const { id, kind, text, form, base } = data;
  if (kind === "write") {
    const written = await fetch(`/fake-write?${new URLSearchParams({ form, base })}`, { method: "POST", body: text });
    return postMessage({ kind: "written", id, content: await written.text() });
  }
  const { drawings, ...answer } = await (await fetch("/fake-check", { method: "POST", body: data.text })).json();
  postMessage({ kind: "answer", id: data.id, answer: JSON.stringify(answer) });
  if (order === "undrawn") return postMessage({ kind: "failed", id: data.id, message: "The checker met an error of its own." });
  if (order === "draw") await pause(Number(value));
  postMessage({ kind: "drawings", id: data.id, drawings });
};

begin();
