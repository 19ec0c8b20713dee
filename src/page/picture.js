"use strict";
// The field in hand lies as a rule on the picture; a tap on the picture goes to the nearest measure; bars are dragged, or
// moved by arrow keys.
(() => {
  const form = document.getElementById("measures");
  const pictures = document.getElementById("pictures");
  if (!form || !pictures) return;
  let held = "";

  function lay() {
    for (const rule of pictures.querySelectorAll(".rule")) rule.classList.toggle("held", rule.dataset.key === held);
    const figure = pictures.querySelector(".rule.held")?.closest("figure");
    if (figure) pictures.scrollTop += figure.getBoundingClientRect().top - pictures.getBoundingClientRect().top;
  }
  form.addEventListener("focusin", (event) => {
    held = event.target.name || "";
    lay();
  });
  document.addEventListener("shown", lay);

  // A place on the screen in the frame of what the picture shows, and pixels a millimetre there.
  function place(over, event) {
    const frame = over.getScreenCTM();
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(frame.inverse());
    return { x: at.x, y: at.y, scale: Math.hypot(frame.a, frame.b) };
  }

  function away(rule, at) {
    const [x1, y1, x2, y2] = rule.dataset.ends.split(" ").map(Number);
    const [dx, dy] = [x2 - x1, y2 - y1];
    const square = dx * dx + dy * dy;
    const share = square > 0 ? Math.min(Math.max(((at.x - x1) * dx + (at.y - y1) * dy) / square, 0), 1) : 0;
    return Math.hypot(at.x - x1 - share * dx, at.y - y1 - share * dy) * at.scale;
  }

  function go(key) {
    const field = document.getElementById(key);
    if (!field) return;
    for (let part = field.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
    field.focus();
    if (field.select) field.select();
  }

  // As far from a measure as a finger may be off, pixels.
  const NEAR = 48;
  pictures.addEventListener("click", (event) => {
    const over = event.target.closest("svg")?.querySelector(".rules");
    if (!over || event.target.closest(".bar")) return;
    const at = place(over, event);
    const rules = [...over.querySelectorAll(".rule")].map((rule) => ({ rule, away: away(rule, at) }));
    rules.sort((a, b) => a.away - b.away);
    if (rules.length > 0 && rules[0].away <= NEAR) go(rules[0].rule.dataset.key);
  });

  function set(bar, at) {
    const field = document.getElementById(bar.dataset.key);
    if (!field) return;
    field.value = at;
    bar.setAttribute("aria-valuenow", at);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
  const within = (bar, at) => Math.min(Math.max(Math.round(at), 0), Number(bar.getAttribute("aria-valuemax")));

  pictures.addEventListener("pointerdown", (event) => {
    const bar = event.target.closest(".bar");
    if (!bar) return;
    const over = bar.closest(".rules");
    const axis = bar.dataset.axis;
    const from = place(over, event)[axis];
    const was = Number(bar.getAttribute("aria-valuenow"));
    let now = was;
    bar.setPointerCapture(event.pointerId);
    held = bar.dataset.key;
    lay();
    const move = (event) => {
      now = within(bar, was + place(over, event)[axis] - from);
      bar.setAttribute("transform", axis === "x" ? `translate(${now - was} 0)` : `translate(0 ${now - was})`);
    };
    // What is held is not put in place anew by an answer that comes meanwhile; the next one does it.
    pictures.dataset.held = "";
    const end = () => {
      bar.removeEventListener("pointermove", move);
      delete pictures.dataset.held;
      set(bar, now);
    };
    bar.addEventListener("pointermove", move);
    bar.addEventListener("lostpointercapture", end, { once: true });
  });

  pictures.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
    const bar = event.target.closest(".bar");
    if (!bar || !by) return;
    event.preventDefault();
    // The field is ahead of the picture where keys are quicker than answers.
    const typed = Number(document.getElementById(bar.dataset.key)?.value || NaN);
    const from = Number.isFinite(typed) ? typed : Number(bar.getAttribute("aria-valuenow"));
    set(bar, within(bar, from + by * (event.shiftKey ? 10 : 1)));
  });
})();
