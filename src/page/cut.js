"use strict";
// Runs through the time of a cut: what has been taken by then is shown, and where the cutter is. Also takes a program that
// is dropped on the page.
(() => {
  const program = document.getElementById("program");
  const instead = document.getElementById("instead");
  document.addEventListener("dragover", (event) => event.preventDefault());
  document.addEventListener("drop", async (event) => {
    event.preventDefault();
    const file = event.dataTransfer.files[0];
    if (!file) return;
    program.value = await file.text();
    // A file that bears the name of one of ours stands in its place.
    if (instead && [...instead.options].some((one) => one.value === file.name)) instead.value = file.name;
    program.form.requestSubmit();
  });

  const run = document.getElementById("run");
  if (!run) return;
  const time = document.getElementById("time");
  const stage = document.getElementById("stage");
  const figures = document.getElementById("figures");
  const cutter = document.getElementById("cutter");
  const all = document.getElementById("moves");
  const lens = document.getElementById("lens");
  // What the lens shows, mm across.
  const LENS = 100;
  const parts = all.dataset.parts.split("|");
  const ways = [...document.querySelectorAll(".ways")];
  const mm = (length) => `${length.toFixed(1)} mm`;
  const whole = Number(run.dataset.whole);
  let begins = 0;
  let least = null;
  const steps = [...all.children].map((path) => {
    const [ends, stage, line, from, to, taken] = path.dataset.s.split(",").map(Number);
    const left = path.dataset.left.split(";").filter(Boolean).map((one) => {
      const [share, wood, part] = one.split(",");
      return { share: Number(share), words: wood && `${mm(Number(wood))}, ${parts[part]}`, wood: Number(wood) };
    });
    for (const one of left) if (one.words && (!least || one.wood < least.wood)) least = one;
    const step = { path, begins, ends, stage, line, from, to, taken, left, least, radius: path.getAttribute("stroke-width") / 2 };
    begins = ends;
    return step;
  });
  let shown = steps.length - 1;
  let now = whole;

  const place = (step, share) => step.left.find((one) => one.share >= share - 1e-6);
  const WORDS = run.dataset.words.split("\n");
  const say = (index, ...figures) => figures.reduce((text, figure, at) => text.replace(`%${at + 1}`, () => figure), WORDS[index]);
  const minutes = (seconds) => `${Math.floor(seconds / 60)} min ${Math.floor(seconds % 60)} s`;

  function words(step, share) {
    const z = step.from + share * (step.to - step.from);
    const told = [
      [say(0), say(1, minutes(now), minutes(whole))],
      [say(2), say(3, stage.options[step.stage].text, step.line)],
      [say(4), z < 0 ? say(5, mm(-z)) : say(6, mm(z))],
      [say(7), step.taken > 0 ? say(8, mm(step.taken)) : say(9)],
      [say(10), (place(step, share) || {}).words || say(11)],
    ];
    if (step.least) told.push([say(12), step.least.words]);
    return told;
  }

  function show(seconds) {
    now = Math.min(Math.max(seconds, 0), whole);
    let low = 0;
    let high = steps.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (steps[middle].ends >= now) high = middle;
      else low = middle + 1;
    }
    for (let index = Math.min(shown, low); index <= Math.max(shown, low); index++) {
      const path = steps[index].path;
      path.classList.toggle("later", index > low);
      path.removeAttribute("stroke-dasharray");
      path.removeAttribute("pathLength");
    }
    shown = low;
    const step = steps[low];
    const share = step.ends > step.begins ? Math.min((now - step.begins) / (step.ends - step.begins), 1) : 1;
    const length = step.path.getTotalLength();
    const at = step.path.getPointAtLength(share * length);
    if (length > 0 && share < 1) {
      step.path.setAttribute("pathLength", 1);
      step.path.setAttribute("stroke-dasharray", `${Math.max(share, 1e-6)} 2`);
    }
    cutter.setAttribute("cx", at.x);
    cutter.setAttribute("cy", at.y);
    cutter.setAttribute("r", step.radius);
    lens.setAttribute("viewBox", `${at.x - lens.dataset.left - LENS / 2} ${lens.dataset.top - at.y - LENS / 2} ${LENS} ${LENS}`);
    ways.forEach((way, index) => way.classList.toggle("other", index !== step.stage));
    time.value = Math.round(now);
    stage.selectedIndex = step.stage;
    const told = words(step, share);
    time.setAttribute("aria-valuetext", told.map((pair) => pair.join(": ")).join("; "));
    figures.replaceChildren(...told.flatMap(([name, value]) => {
      const [term, text] = [document.createElement("dt"), document.createElement("dd")];
      term.textContent = name;
      text.textContent = value;
      return [term, text];
    }));
  }

  run.hidden = false;
  for (const button of document.querySelectorAll("button.see")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      show(Number(button.dataset.time));
      time.focus();
    });
  }
  time.addEventListener("input", () => show(Number(time.value)));
  stage.addEventListener("change", () => show(Number(stage.value) + 0.01));
  run.addEventListener("click", (event) => {
    const by = Number(event.target.dataset.move || 0);
    const step = steps[Math.min(Math.max(shown + by, 0), steps.length - 1)];
    if (by) show(step.ends);
  });
  show(whole);
})();
