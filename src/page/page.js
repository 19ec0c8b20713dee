"use strict";
// Sends what is typed as it is typed and shows what the server answers. Without this script the page works by its
// buttons. One change is on its way at a time; what is typed meanwhile goes with the next.
(() => {
  const form = document.getElementById("measures");
  if (!form) return;
  document.documentElement.classList.add("live");
  for (const button of form.querySelectorAll(":scope > button.plain")) button.hidden = true;
  const said = document.createElement("p");
  said.id = "said";
  said.setAttribute("role", "alert");
  document.body.append(said);
  const pictures = document.getElementById("pictures");
  const waiting = new Map();
  const { gone: GONE, notTaken: NOT_TAKEN } = document.body.dataset;
  let busy = false;

  function show(text) {
    const fresh = new DOMParser().parseFromString(text, "text/html");
    if (!fresh.body.dataset.version) return false;
    for (const now of document.querySelectorAll("[data-live]")) {
      const next = fresh.getElementById(now.id);
      if (!next || "held" in now.dataset || (next.innerHTML === now.innerHTML && next.className === now.className)) continue;
      const held = now.contains(document.activeElement) ? document.activeElement : null;
      now.className = next.className;
      const opened = [...now.querySelectorAll("details")].map((one) => one.open);
      now.replaceChildren(...next.childNodes);
      now.querySelectorAll("details").forEach((one, index) => { one.open = opened[index] || one.open; });
      // What was chosen since is on its way still.
      for (const one of now.querySelectorAll("input[type=radio]")) {
        if (waiting.has(one.name)) one.checked = one.value === waiting.get(one.name);
      }
      if (held && (held.name || held.dataset.key)) {
        const like = (one) => (held.name ? one.name === held.name && one.value === held.value : one.dataset.key === held.dataset.key);
        const again = [...now.querySelectorAll("input, .bar")].find(like);
        if (again) again.focus();
      }
    }
    document.body.dataset.version = fresh.body.dataset.version;
    document.dispatchEvent(new Event("shown"));
    return true;
  }

  // Shows an answer, or says why there is none.
  function told(taken, text) {
    if (taken && show(text)) {
      said.textContent = "";
      return;
    }
    const why = new DOMParser().parseFromString(text, "text/html").querySelector("main p");
    said.textContent = why ? why.textContent : NOT_TAKEN;
  }

  async function send() {
    if (busy || waiting.size === 0) return;
    busy = true;
    const sent = new Map(waiting);
    waiting.clear();
    const late = setTimeout(() => pictures && pictures.classList.add("late"), 200);
    try {
      const body = new URLSearchParams([["version", document.body.dataset.version], ...sent]);
      const answer = await fetch("/set", { method: "POST", body, headers: { "X-Page": location.pathname } });
      told(answer.ok, await answer.text());
    } catch {
      for (const [key, value] of sent) if (!waiting.has(key)) waiting.set(key, value);
      said.textContent = GONE;
      setTimeout(() => { busy = false; send(); }, 2000);
      return;
    } finally {
      clearTimeout(late);
      if (pictures) pictures.classList.remove("late");
    }
    busy = false;
    send();
  }

  // Saving leaves the page as it is: what is open stays open.
  const save = document.querySelector("form[action='/save']");
  save.addEventListener("submit", async (event) => {
    event.preventDefault();
    try {
      const answer = await fetch("/save", { method: "POST" });
      told(answer.ok, await answer.text());
    } catch {
      said.textContent = GONE;
    }
  });

  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const field = event.target;
    if (field.dataset.chooses) {
      const radios = document.querySelectorAll("#" + field.dataset.chooses + " input[type=radio]");
      const one = radios[Number(field.value)];
      if (!one) return;
      one.checked = true;
      waiting.set(one.name, one.value);
    } else if (field.name) {
      waiting.set(field.name, field.value);
      for (const also of (field.dataset.also || "").split(" ")) {
        if (also) {
          waiting.set(also, field.value);
          const other = document.getElementById(also);
          if (other) other.value = field.value;
        }
      }
    }
    send();
  });
})();
