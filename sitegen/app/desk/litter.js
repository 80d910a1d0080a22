// A litter's table: what would follow from a row is told while it is filled in, and the row is kept when it is left.
"use strict";
(() => {
  const form = document.querySelector("form[data-litter]");
  if (!form) return;
  const rows = [...form.querySelectorAll("[data-row]")].filter((row) => row.querySelector("[name=row]"));
  const fields = (row, key) => [...row.querySelectorAll(`[name="${row.dataset.row}.${key}"]`)];
  const told = (row) => row.querySelector("[data-follows]");

  // What a row says, in the words that the hidden fields have of what the record says.
  function said(row) {
    const entries = ["sex", "weight", "price"].map((key) => [key, fields(row, key)[0].value.trim()]);
    const looks = fields(row, "shows").filter((each) => each.type !== "checkbox" || each.checked);
    const kept = fields(row, "kept")[0].checked ? "yes" : "";
    return { ...Object.fromEntries(entries), kept, shows: looks.map((each) => each.value.trim()).filter(Boolean).sort().join(", ") };
  }
  const isChanged = (row) => Object.entries(said(row)).some(([key, value]) => fields(row, `was.${key}`)[0].value !== value);

  function fill(row, words) {
    for (const key of ["sex", "weight", "price"]) fields(row, key)[0].value = words[key];
    fields(row, "kept")[0].checked = Boolean(words.kept);
    const looks = new Set(words.shows.split(", "));
    const [other, ...boxes] = fields(row, "shows").reverse();
    boxes.forEach((box) => { box.checked = looks.delete(box.value); });
    other.value = [...looks].join(", ");
  }

  function sent(row) {
    const data = new FormData();
    data.set("on", form.elements.on.value);
    for (const field of row.querySelectorAll("[name]")) {
      if (field.type !== "checkbox" || field.checked) data.append(field.name, field.value);
    }
    return data;
  }

  function lines(place, texts, isWrong) {
    place.classList.toggle("wrong", isWrong);
    place.replaceChildren(...texts.map((text) => {
      const line = document.createElement("p");
      line.textContent = text;
      return line;
    }));
  }

  // Rows that could not be sent wait in the browser's own store too; to send one twice is to say the same twice.
  const store = `desk ${form.getAttribute("action")}`;
  function remember() {
    const left = rows.filter(isChanged).map((row) => [row.dataset.row, said(row)]);
    if (left.length) localStorage.setItem(store, JSON.stringify({ on: form.elements.on.value, left }));
    else localStorage.removeItem(store);
  }
  function recall() {
    const held = JSON.parse(localStorage.getItem(store) || "null");
    if (!held) return;
    if (held.on !== form.elements.on.value) {
      location.replace(`?on=${encodeURIComponent(held.on)}`);
      return;
    }
    for (const [number, words] of held.left) {
      const row = rows.find((each) => each.dataset.row === number);
      if (!row) continue;
      fill(row, words);
      keep(row);
    }
  }

  // Late answers are dropped: only what follows from the row as it stands is shown.
  const asked = new WeakMap();
  async function consider(row) {
    const number = (asked.get(row) || 0) + 1;
    asked.set(row, number);
    if (!isChanged(row)) return lines(told(row), [], false);
    try {
      const outcome = await desk.send(`${form.getAttribute("action")}/consider`, sent(row));
      if (asked.get(row) !== number) return;
      const findings = outcome.findings.map((each) => (each.hint ? `${each.message}. ${each.hint}` : each.message));
      const head = outcome.refused ? ["This cannot be kept so."] : [];
      lines(told(row), [...head, ...(outcome.refused && outcome.told ? [outcome.told] : []), ...findings, ...(outcome.follows || [])], outcome.refused);
    } catch (error) {
      if (asked.get(row) === number) lines(told(row), [error.message || "The desk does not answer."], true);
    }
  }

  // One after the other, so that each is checked against what was kept before it.
  let last = Promise.resolve();
  function keep(row) {
    last = last.then(async () => {
      if (!isChanged(row)) return;
      asked.set(row, (asked.get(row) || 0) + 1);
      const before = JSON.stringify(said(row));
      try {
        const outcome = await desk.send(form.getAttribute("action"), sent(row));
        desk.say(outcome, told(row));
        if (outcome.refused) return;
        const stands = outcome.rows[row.dataset.row];
        const isAsSent = JSON.stringify(said(row)) === before;
        for (const [key, value] of Object.entries(stands)) fields(row, `was.${key}`)[0].value = value;
        if (isAsSent) fill(row, stands);
      } catch (error) {
        lines(told(row), ["Not kept yet; it waits here.", error.message || "The desk does not answer."], true);
      }
      remember();
    });
    return last;
  }

  for (const row of rows) {
    let waits = 0;
    row.addEventListener("input", (event) => {
      const looks = fields(row, "shows").filter((each) => each.type === "checkbox");
      const nothing = looks[looks.length - 1];
      if (event.target === nothing && nothing.checked) looks.forEach((each) => { each.checked = each === nothing; });
      else if (looks.includes(event.target) && event.target.checked) nothing.checked = false;
      clearTimeout(waits);
      waits = setTimeout(() => consider(row), event.target.type === "checkbox" ? 0 : 250);
    });
    row.addEventListener("focusout", (event) => {
      if (row.contains(event.relatedTarget)) return;
      clearTimeout(waits);
      keep(row);
    });
    row.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.target.matches("a, button, [type=file]")) return;
      event.preventDefault();
      const next = rows[rows.indexOf(row) + 1];
      if (next) next.querySelector("select, input:not([type=hidden])").focus();
      else form.querySelector(".keep button").focus();
    });
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    rows.forEach(keep);
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") rows.filter(isChanged).forEach(keep);
  });
  window.addEventListener("online", () => rows.filter(isChanged).forEach(keep));
  recall();
  window.addEventListener("beforeunload", (event) => {
    if (rows.some(isChanged)) event.preventDefault();
  });
})();
