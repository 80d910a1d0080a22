// Leaves of a list the lines that hold the words that are typed, and says how many those are.
"use strict";
(() => {
  const box = document.querySelector("[data-filter]");
  if (!box) return;
  const field = box.querySelector("input");
  const lines = [...document.querySelectorAll("[data-lines] > li")];
  const texts = lines.map((line) => line.textContent.toLowerCase());
  box.hidden = false;
  field.addEventListener("input", () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    lines.forEach((line, at) => {
      line.hidden = !words.every((word) => texts[at].includes(word));
      shown += line.hidden ? 0 : 1;
    });
    box.querySelector("[data-count]").textContent = words.length ? `${shown} of ${lines.length}` : "";
  });
})();
