// Each offer is saved when one of its fields is left; without this script each row has a button.
"use strict";
(() => {
  document.documentElement.classList.add("by-script");
  for (const form of document.querySelectorAll("[data-offer]")) {
    const { state, price } = form.elements;
    const told = form.querySelector("[data-told]");
    const shown = () => {
      form.querySelector(".of-hold").hidden = state.value !== "on hold";
      for (const each of form.querySelectorAll(".of-sale")) each.hidden = state.value === form.elements["was.state"].value && state.value !== "sold";
    };
    let last = Promise.resolve();

    async function save() {
      const fields = new FormData(form);
      try {
        const outcome = await desk.send(form.getAttribute("action"), fields);
        desk.say(outcome, told);
        if (outcome.refused) return;
        for (const key of ["price", "state", "ready", "until"]) form.elements[`was.${key}`].value = fields.get(key) || "";
        if (!state.value) state.value = form.elements["was.state"].value = "available";
      } catch (error) {
        desk.say({ refused: true, told: error.message || "The desk does not answer.", findings: [], undo: 0 }, told);
      }
      shown();
    }

    form.addEventListener("change", () => {
      if (!state.value && price.value) state.value = "available";
      shown();
      last = last.then(save);
    });
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      last = last.then(save);
    });
    shown();
  }
})();
