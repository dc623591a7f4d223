// Starts a program of the app's heavy half in a worker.
// In: the names of the program's files, and of a lock, in the worker's own name: its address loses what stands behind
// the file's name when the offline copy answers; from the page, where it has it, the program as an earlier worker
// compiled it. Out: the compiled program for the page to keep, and a worker that answers questions, after the word "ready".
// Always true: the files are from the same folder as the page's; nothing is fetched from elsewhere; the lock is held
// for as long as the worker lives, so that the page learns of its end however it comes.

const asked = new URLSearchParams(self.name);
const here = (name) => new URL(name, new URL(".", self.location.href));
const plain = (name) => {
  if (!/^[\w.-]+$/.test(name ?? "")) throw new Error("not the name of a built file");
  return name;
};

// Heard from the first moment on, since what comes before anyone listens is lost.
const handed = asked.get("given") ? new Promise((take) => (self.onmessage = (event) => take(event.data))) : undefined;

const life = asked.get("life");
if (life && navigator.locks) {
  await new Promise((held) => navigator.locks.request(life, () => (held(), new Promise(() => {}))));
}

const program = await import(here(plain(asked.get("js"))).href);
const compiled = async (address) => {
  try {
    return await WebAssembly.compileStreaming(fetch(address));
  } catch {
    // A host that gives the file another type.
    return WebAssembly.compile(await (await fetch(address)).arrayBuffer());
  }
};
const given = await handed;
const module = given ?? (await compiled(here(plain(asked.get("wasm")))));
await program.default({ module_or_path: module });
if (!given) {
  try {
    self.postMessage(module);
  } catch {
    // Then the next worker compiles it again.
  }
}
self.onmessage = (event) => self.postMessage(program.answer(event.data));
self.postMessage("ready");
