// While a plan is searched: tells how far it is, and shows the page again when there is an answer.
"use strict";
(() => {
  const place = document.querySelector("[data-progress]");
  async function look() {
    const found = await (await fetch("/plan/how-far")).json();
    if (found.done) {
      location.reload();
    } else {
      place.textContent = found.told;
    }
  }
  setInterval(() => look().catch(() => (place.textContent = "The desk does not answer")), 1000);
})();
