"use strict";
(() => {
  const source = document.getElementById("playing");
  if (!source) return;
  const known = JSON.parse(source.textContent);

  class Player {
    constructor(root) {
      this.root = root;
      this.tale = root.dataset.player;
      this.controls = root.querySelector(".controls");
      this.slider = root.querySelector("[data-slider]");
      this.place = root.querySelector("[data-place]");
      this.said = root.querySelector("[data-said]");
      this.happens = root.querySelector("[data-happens]");
      this.button = root.querySelector('[data-do="play"]');
      this.timer = 0;
      this.step = this.last();
      for (const one of root.querySelectorAll(".events span.step")) this.upgrade(one);
      for (const one of root.querySelectorAll("[data-do]"))
        one.addEventListener("click", () => this.act(one.dataset.do));
      this.slider.addEventListener("input", () => { this.stop(); this.show(Number(this.slider.value)); });
      root.addEventListener("keydown", (event) => this.key(event));
      for (const strip of root.querySelectorAll("[data-chart] td svg, [data-chart] thead svg"))
        strip.addEventListener("click", (event) => this.clicked(strip, event));
      this.controls.hidden = false;
      this.show(this.step, true);
    }
    moments() { return known.tales[this.tale]; }
    last() { return this.moments().length - 1; }
    upgrade(span) {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "step";
      button.textContent = span.textContent;
      const item = span.closest("li");
      button.setAttribute("aria-label", "Show step " + span.textContent);
      button.addEventListener("click", () => { this.stop(); this.show(Number(item.dataset.step)); });
      span.replaceWith(button);
    }
    act(what) {
      if (what === "play") { if (this.timer) this.stop(); else this.play(); return; }
      this.stop();
      const to = { first: 0, back: this.step - 1, on: this.step + 1, last: this.last() }[what];
      this.show(to);
    }
    key(event) {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      if (event.target === this.slider || event.target.tagName === "SELECT") return;
      if (event.target.closest(".scroll") && event.target.closest(".scroll") === event.target) return;
      const what = { ArrowLeft: "back", ArrowRight: "on", Home: "first", End: "last" }[event.key];
      if (!what) return;
      event.preventDefault();
      this.act(what);
    }
    clicked(strip, event) {
      const box = strip.getBoundingClientRect();
      const column = Number(strip.closest("table").dataset.column);
      this.stop();
      this.show(Math.floor((event.clientX - box.left) / column));
    }
    play() {
      if (this.step >= this.last()) this.show(0);
      this.button.setAttribute("aria-pressed", "true");
      this.button.setAttribute("aria-label", "Pause");
      this.timer = setInterval(() => {
        if (this.step >= this.last()) this.stop(); else this.show(this.step + 1);
      }, 1400);
    }
    stop() {
      clearInterval(this.timer);
      this.timer = 0;
      this.button.setAttribute("aria-pressed", "false");
      this.button.setAttribute("aria-label", "Play");
    }
    show(step, quiet) {
      this.step = Math.max(0, Math.min(this.last(), step));
      const words = "Step " + this.step + " of " + this.last();
      this.slider.max = String(this.last());
      this.slider.value = String(this.step);
      this.slider.setAttribute("aria-valuetext", words);
      this.place.textContent = words;
      const told = [];
      for (const item of this.root.querySelectorAll(".events li[data-step]")) {
        const current = Number(item.dataset.step) === this.step;
        item.classList.toggle("current", current);
        if (current) item.setAttribute("aria-current", "step"); else item.removeAttribute("aria-current");
        if (current) told.push(item.querySelector("p").textContent);
      }
      if (!quiet) this.happens.textContent = this.step ? told.join(" ") : "The start, before anything happens.";
      for (const cursor of this.root.querySelectorAll(".cursor"))
        cursor.setAttribute("x", String(this.step * 36));
      const rows = this.moments()[this.step].said.map(([name, value]) => {
        const row = document.createElement("div");
        const term = document.createElement("dt");
        const text = document.createElement("dd");
        term.textContent = name;
        text.textContent = value;
        row.append(term, text);
        return row;
      });
      this.said.replaceChildren(...rows);
    }
  }
  for (const root of document.querySelectorAll("[data-player]")) new Player(root);
  document.documentElement.dataset.ready = "yes";
})();
