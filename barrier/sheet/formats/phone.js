"use strict";
(() => {
  // Every word and figure is in the data; nothing is worked out here but which set is shown.
  const data = JSON.parse(document.getElementById("grid").textContent);
  const at = (id) => document.getElementById(id);
  const sliders = data.axes.map((_, i) => at("axis-" + i));
  const rows = [...document.querySelectorAll("[data-row]")];
  const number = (stops) => data.axes.reduce((sum, axis, i) => sum * axis.stops.length + stops[i], 0);
  const here = () => sliders.map((slider) => Number(slider.value));

  // Long texts are kept as lines, a line as a pattern and the numbers that go between its parts.
  const line = (i) => {
    const [pattern, numbers] = data.pieces.lines[i];
    const between = numbers ? numbers.split(" ") : [];
    return data.pieces.patterns[pattern].map((part, j) => part + (between[j] ?? "")).join("");
  };
  const made = (i) => data.pieces.made[i].split(" ").map(line).join("\n");

  const named = (stops) => data.axes.map((axis, i) => axis.title + " " + axis.stops[stops[i]]).join(", ");

  const classed = (element, base, ending, governs) => {
    element.className = base + " " + data.classes[ending] + (governs ? " governs" : "");
  };

  const bar = (element, cell) => {
    const [text, ending, share] = cell;
    const [drawn, eta, word] = [".bar", ".eta", ".ending"].map((part) => element.querySelector(part));
    const broken = share === null && data.words[ending] === "EXCEEDS";
    const unknown = share === null && !broken;
    const [first, second] = drawn.querySelectorAll("span");
    drawn.className = broken ? "bar broken" : "bar";
    if (share === null) first.removeAttribute("style");
    else first.style.width = share + "%";
    first.hidden = unknown;
    second.hidden = !broken;
    drawn.querySelector("b").hidden = broken;
    drawn.querySelector("i").textContent = unknown ? "? ? ?" : "";
    eta.textContent = text;
    word.textContent = data.words[ending];
  };

  // The endings that want attention are set in bold, as everywhere on the sheet.
  const loud = (element, text) => {
    element.replaceChildren(
      ...text.split(/\b(EXCEEDS|NOT CHECKED)\b/).map((part) => {
        const ending = data.words.indexOf(part);
        if (!part || ending < 0) return part;
        const strong = document.createElement("strong");
        strong.className = data.classes[ending];
        strong.textContent = part;
        return strong;
      }),
    );
  };

  const row = (element, point) => {
    const index = Number(element.dataset.row);
    const cell = data.cells[point.cells[index]];
    element.hidden = !cell;
    if (!cell) return;
    const governs = index === point.governs;
    const link = element.tagName === "DETAILS";
    const within = link ? element.querySelector("summary") : element;
    classed(element, link ? "check link" : "check", cell[1], governs);
    bar(within, cell);
    within.querySelector(".mark").textContent = governs && !link ? "► GOVERNS " : "";
    const note = within.querySelector(".note");
    note.hidden = !data.texts[cell[3]];
    loud(note, data.texts[cell[3]]);
  };

  const drawing = (figure, index) => {
    const old = figure.querySelector("svg");
    if (old) old.remove();
    if (index === null) return;
    const read = new DOMParser().parseFromString(made(index), "image/svg+xml").documentElement;
    figure.prepend(document.importNode(read, true));
  };

  const scale = (stops) => {
    data.axes.forEach((axis, i) => {
      const marks = at("marks-" + i).children;
      axis.stops.forEach((_, j) => {
        const there = data.points[number(stops.map((stop, k) => (k === i ? j : stop)))];
        marks[j].className = data.classes[there.ending] + (j === stops[i] ? " here" : "");
        marks[j].textContent = data.signs[there.ending];
      });
      const text = axis.stops[stops[i]];
      const ending = data.words[data.points[number(stops)].ending] || "refused";
      at("says-" + i).textContent = text;
      sliders[i].setAttribute("aria-valuetext", text + ", stop " + (stops[i] + 1) + " of " + axis.stops.length + ": " + ending);
      for (const button of document.querySelectorAll('.nudge[data-axis="' + i + '"]')) {
        const next = stops[i] + Number(button.dataset.by);
        button.setAttribute("aria-disabled", String(next < 0 || next >= axis.stops.length));
      }
    });
  };

  let waiting = 0;
  const say = (stops, point) => {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      const governs = data.texts[point.governing];
      const figure = point.governs === null ? "" : data.cells[point.cells[point.governs]][0];
      at("said").textContent = named(stops) + ". " + data.texts[point.headline] + (governs ? ". Governs: " + governs + ", " + figure : "") + ".";
    }, 600);
  };

  const show = (aloud) => {
    const stops = here();
    const point = data.points[number(stops)];
    const governs = point.governs === null ? null : data.cells[point.cells[point.governs]];
    at("answer").className = data.classes[point.ending];
    at("set").textContent = named(stops);
    loud(at("headline"), data.texts[point.headline]);
    at("refusal").hidden = !data.texts[point.refused];
    at("refusal").textContent = data.texts[point.refused];
    at("counts").hidden = at("refusal").hidden === false;
    at("beside").hidden = !data.texts[point.beside];
    loud(at("beside"), data.texts[point.beside]);
    [...at("counts").querySelectorAll("dd")].forEach((dd, i) => (dd.textContent = point.counts[i]));
    at("governs").hidden = governs === null;
    if (governs !== null) {
      classed(at("governs"), "check governs", governs[1], false);
      at("governs").querySelector(".title").textContent = data.texts[point.governing];
      bar(at("governs"), governs);
      at("where").hidden = !data.texts[point.where];
      at("where").textContent = data.texts[point.where];
    }
    at("drawings").hidden = at("links").hidden = point.drawings === null; // the job file refuses the set
    rows.forEach((element) => row(element, point));
    for (const link of document.querySelectorAll("details.link")) {
      const mark = link.querySelector("li.governs:not([hidden])");
      link.querySelector("summary .mark").textContent = mark ? "► " : "";
    }
    [0, 1].forEach((i) => drawing(at("drawing-" + i), point.drawings === null ? null : point.drawings[i]));
    at("command").textContent = made(point.command);
    scale(stops);
    at("back").hidden = data.axes.every((axis, i) => axis.own === stops[i]);
    if (aloud) say(stops, point);
  };

  for (const slider of sliders) slider.addEventListener("input", () => show(true));
  for (const button of document.querySelectorAll(".nudge"))
    button.addEventListener("click", () => {
      const slider = sliders[Number(button.dataset.axis)];
      const before = slider.value;
      slider.value = String(Number(before) + Number(button.dataset.by));
      if (slider.value !== before) show(true);
    });
  at("back").addEventListener("click", () => {
    data.axes.forEach((axis, i) => (sliders[i].value = String(axis.own)));
    show(true);
    sliders[0].focus();
  });
  at("sliders").addEventListener("submit", (event) => event.preventDefault());
  data.axes.forEach((axis, i) => (sliders[i].value = String(axis.own))); // a browser that comes back to the page remembers others
  at("sliders").hidden = false;
  document.documentElement.classList.add("live");
  const room = () => document.documentElement.style.setProperty("--below", at("sliders").offsetHeight + "px");
  addEventListener("resize", room);
  show(false);
  room();
})();
