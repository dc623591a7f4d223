// Starts the app's heavy half in a worker.
// In: the names of the built files, in this script's address. Out: a worker that answers questions.
// Always true: the same files as the page's, from the same folder; nothing is fetched from elsewhere.

const asked = new URL(self.location.href).searchParams;
const here = (name) => new URL(name, new URL(".", self.location.href));
const plain = (name) => {
  if (!/^[\w.-]+$/.test(name ?? "")) throw new Error("not the name of a built file");
  return name;
};

const app = await import(here(plain(asked.get("js"))).href);
await app.default({ module_or_path: here(plain(asked.get("wasm"))) });
