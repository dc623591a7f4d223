// Starts the app and the offline copy, and says so when the app broke down.
// In: the names of the built files, as data on the script tag. Out: the running app, or a sentence.
// Always true: nothing is fetched from anywhere but the folder this file lies in; the page is never loaded anew by
// itself; after a breakdown nothing more can be typed, and what was typed is kept.

const tag = document.getElementById("loader");

const say = (sentence) => {
  const place = document.getElementById("wait");
  if (place) place.querySelector("p").textContent = sentence;
};

const attempt = (deed) => {
  try {
    return deed();
  } catch {
    return undefined;
  }
};

// A breakdown: the box being typed in is written down as it stands, and the page is put out of reach.

let broken = false;

const writeDown = () => {
  const box = document.activeElement;
  if (box instanceof HTMLInputElement || box instanceof HTMLTextAreaElement) {
    const name = box.getAttribute("aria-label") ?? box.labels?.[0]?.textContent ?? box.id;
    localStorage.setItem("turnleaf/typing", JSON.stringify({ name: name.trim(), text: box.value }));
  }
};

/** Counts breakdowns at one place, so that a plan that breaks the app does not break every visit. */
const count = () => {
  const here = sessionStorage.getItem("turnleaf/here") ?? "";
  const [place, times] = (sessionStorage.getItem("turnleaf/broke") ?? "").split(" ");
  sessionStorage.setItem("turnleaf/broke", `${here} ${place === here ? Number(times) + 1 : 1}`);
};

const broke = () => {
  if (broken) return;
  broken = true;
  attempt(writeDown);
  attempt(count);
  for (const child of document.body.children) child.inert = true;
  const cover = document.createElement("div");
  cover.className = "broke";
  cover.setAttribute("role", "alertdialog");
  cover.setAttribute("aria-modal", "true");
  cover.setAttribute("aria-labelledby", "broke-title");
  cover.setAttribute("aria-describedby", "broke-words");
  const title = Object.assign(document.createElement("h2"), { id: "broke-title", textContent: "Turnleaf broke down" });
  const words = Object.assign(document.createElement("p"), {
    id: "broke-words",
    textContent: "That is a fault of Turnleaf's, not of yours. What you typed is kept, down to the last letter. Open the page again to go on with it.",
  });
  const again = Object.assign(document.createElement("button"), { type: "button", className: "main", textContent: "Open it again" });
  again.addEventListener("click", () => location.reload());
  const page = document.createElement("div");
  page.append(title, words, again);
  cover.append(page);
  document.body.append(cover);
  again.focus();
};

window.addEventListener("turnleaf-broke", broke);
window.addEventListener("error", (event) => {
  if (event.error instanceof WebAssembly.RuntimeError) broke();
});
window.addEventListener("unhandledrejection", (event) => {
  if (event.reason instanceof WebAssembly.RuntimeError) broke();
});

// Where workers are refused a program of the heavy half runs on the page.
window.turnleafHere = async (js, wasm) => {
  const program = await import(new URL(js, document.baseURI).href);
  await program.default({ module_or_path: new URL(wasm, document.baseURI) });
  return program;
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

// The offline copy. A newer version waits until it is asked for; here and in every other tab.

const AN_HOUR = 3_600_000;

const keepCopy = async (workers) => {
  let [waiting, asked, had] = [false, false, workers.controller !== null];
  const newer = () => {
    waiting = true;
    window.dispatchEvent(new Event("turnleaf-newer"));
  };
  workers.addEventListener("controllerchange", () => {
    // The first copy takes over silently; a later one was asked for, here or in another tab.
    if (asked) location.reload();
    else if (had) newer();
    had = true;
  });
  const registration = await workers.register(new URL("sw.js", document.baseURI));
  const watch = (worker) => {
    const installed = () => {
      if (worker.state === "installed" && workers.controller) newer();
    };
    worker?.addEventListener("statechange", installed);
  };
  if (registration.waiting && workers.controller) newer();
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  window.addEventListener("turnleaf-newer?", () => {
    if (waiting) newer();
  });
  window.addEventListener("turnleaf-take-newer", () => {
    asked = true;
    if (registration.waiting) registration.waiting.postMessage("take over");
    else location.reload();
  });
  let looked = performance.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || performance.now() - looked < AN_HOUR) return;
    looked = performance.now();
    // Without a network there is nothing newer.
    registration.update().catch(() => {});
  });
};

if ("serviceWorker" in navigator && window.isSecureContext) {
  try {
    await keepCopy(navigator.serviceWorker);
  } catch (error) {
    console.warn("The app will not work offline:", error);
  }
}
