// Starts a program of the app's heavy half in a worker.
// In: the names of the program's files, and of a lock, in the worker's own name: its address loses what stands behind
// the file's name when the offline copy answers. Out: a worker that answers questions, after the word "ready".
// Always true: the files are from the same folder as the page's; nothing is fetched from elsewhere; the lock is held
// for as long as the worker lives, so that the page learns of its end however it comes.

const asked = new URLSearchParams(self.name);
const here = (name) => new URL(name, new URL(".", self.location.href));
const plain = (name) => {
  if (!/^[\w.-]+$/.test(name ?? "")) throw new Error("not the name of a built file");
  return name;
};

const life = asked.get("life");
if (life && navigator.locks) {
  await new Promise((held) => navigator.locks.request(life, () => (held(), new Promise(() => {}))));
}

const program = await import(here(plain(asked.get("js"))).href);
await program.default({ module_or_path: here(plain(asked.get("wasm"))) });
self.onmessage = (event) => self.postMessage(program.answer(event.data));
self.postMessage("ready");
