// Starts the app and the offline copy.
// In: the names of the built files, as data on the script tag. Out: the running app, or a sentence.
// Always true: nothing is fetched from anywhere but the folder this file lies in.

const tag = document.getElementById("loader");

const say = (sentence) => {
  const place = document.getElementById("wait");
  if (place) place.querySelector("p").textContent = sentence;
};

try {
  const script = new URL(tag.dataset.js, document.baseURI);
  const app = await import(script.href);
  await app.default({ module_or_path: new URL(tag.dataset.wasm, document.baseURI) });
  document.getElementById("wait")?.remove();
} catch (error) {
  console.error(error);
  say("Turnleaf could not start in this browser. A current Firefox, Chrome, Edge or Safari will do; your saved work is untouched.");
}

if ("serviceWorker" in navigator && window.isSecureContext) {
  try {
    await navigator.serviceWorker.register(new URL("sw.js", document.baseURI));
  } catch (error) {
    console.warn("The app will not work offline:", error);
  }
}
