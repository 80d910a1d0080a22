// The round: each entry is sent as it is made. It stands in the browser's own store until the desk has answered, so
// that nothing is lost where the network is away or the page is closed; its id makes that it counts once.
"use strict";
(() => {
  const form = document.querySelector("form[data-keep]");
  if (!form) return;
  const place = `the round of ${form.dataset.keep}`;
  const day = form.dataset.day;
  const rows = new Map([...form.querySelectorAll(".seen")].map((row) => [row.dataset.animal, row]));
  const waiting = document.querySelector("[data-waiting]");
  const outcomes = new Map(); // of a row and kind, what was saved last in this page
  const again_ms = 5000;
  const patience_ms = 15000;
  let held = []; // where the browser has no store
  let busy = false;
  let away = false;
  let timer = 0;
  let trouble = "";

  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(place) || "[]");
    } catch {
      return held;
    }
  };
  const keep = (entries) => {
    held = entries;
    try {
      if (entries.length) localStorage.setItem(place, JSON.stringify(entries));
      else localStorage.removeItem(place);
    } catch {
      trouble = "This browser keeps nothing: leave the page open until all is saved.";
    }
  };
  const change = (id, what) => keep(read().map((each) => (each.id === id ? { ...each, ...what } : each)));
  const forget = (id) => keep(read().filter((each) => each.id !== id));
  const newId = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), (each) => each.toString(16)).join("-");
  const field = (row, name) => form.elements[`${name}:${row.dataset.animal}`];
  const text = (row, name) => (field(row, name) ? field(row, name).value.trim() : "");
  const ticked = (row, name) => Boolean(field(row, name) && field(row, name).checked);
  const keyOf = (entry) => `${entry.animal} ${entry.kind}`;

  // What the fields of one kind say; null for nothing.
  function told(row, kind) {
    if (kind === "shed") return ticked(row, "shed") ? { shed: "yes" } : null;
    if (kind !== "meal") return text(row, kind) ? { [kind]: text(row, kind) } : null;
    const fed = text(row, "fed") || (ticked(row, "again") ? field(row, "again").value : "");
    const usual = field(row, "again") ? field(row, "again").value : "";
    if (ticked(row, "refused") && (fed || usual)) return { fed: fed || usual, refused: "yes" };
    return fed ? { fed } : null;
  }

  function say(entry) {
    const { weight, fed, refused, shed, note } = entry.now;
    return weight || note || (shed ? "shed" : `${fed} ${refused ? "refused" : "taken"}`);
  }

  // Takes what the fields say as an entry, unless it was taken already.
  function enter(row, kind, sure = "") {
    const animal = row.dataset.animal;
    const now = told(row, kind);
    const before = read().filter((each) => each.animal === animal && each.kind === kind && each.day === day).pop();
    const saved = outcomes.get(`${animal} ${kind}`);
    const last = before || saved;
    if (!now && saved && !before && kind !== "weight" && kind !== "note") takeBack(`${animal} ${kind}`);
    if (!now || (last && JSON.stringify(last.now) === JSON.stringify(now) && !sure)) return;
    const known = text(row, "known");
    const untried = before && !before.tried;
    const was = untried ? before.was : last ? last.now : null;
    const entry = { id: newId(), address: form.getAttribute("action"), day, animal, kind, now, was, known, sure };
    keep([...read().filter((each) => !(before && (untried || before.state !== "waits") && each.id === before.id)),
      { ...entry, name: row.querySelector("h2").textContent, state: "waits" }]);
    show();
    sendAll();
  }

  function fieldsOf(entry) {
    const fields = new FormData();
    fields.append("entry", entry.id);
    for (const [name, value] of Object.entries(entry.now)) fields.append(`${name}:${entry.animal}`, value);
    for (const [name, value] of Object.entries(entry.was || {})) fields.append(`was-${name}:${entry.animal}`, value);
    if (entry.known) fields.append(`known:${entry.animal}`, entry.known);
    if (entry.sure) fields.append(`sure:${entry.animal}`, entry.sure);
    return fields;
  }

  const inTime = (answer) =>
    Promise.race([answer, new Promise((_, fail) => setTimeout(() => fail(new TypeError("no answer")), patience_ms))]);

  // Sends what waits, the oldest first, until the desk cannot be reached.
  async function sendAll() {
    if (busy) return;
    busy = true;
    try {
      for (let entry; (entry = read().find((each) => each.state === "waits")); ) {
        change(entry.id, { tried: true });
        const outcome = await inTime(desk.send(entry.address, fieldsOf(entry)));
        away = false;
        trouble = "";
        if (outcome.refused) {
          const why = [outcome.told, ...outcome.findings.map((each) => `${each.message}; ${each.hint}`)];
          change(entry.id, { state: outcome.asks ? "asks" : "refused", tried: false, why: why.join(" ").trim() });
        } else {
          forget(entry.id);
          const notes = outcome.findings.map((each) => each.message);
          outcomes.delete(keyOf(entry)); // the latest stands last
          outcomes.set(keyOf(entry), { now: entry.now, said: outcome.said, undo: outcome.undo, notes, day: entry.day });
        }
        show();
      }
    } catch (error) {
      if (error.status === 403) trouble = "The desk was started anew: load this page again, and they are sent.";
      else if (error.status) trouble = "The desk did not take them. Look at what it says on the page of today.";
      else trouble = "";
      away = true;
      clearTimeout(timer);
      timer = setTimeout(sendAll, again_ms);
    } finally {
      busy = false;
      show();
    }
  }

  async function takeBack(key) {
    const saved = outcomes.get(key);
    if (!saved.undo) return;
    let outcome;
    try {
      outcome = await inTime(desk.send(`/changes/${saved.undo}/undo`, new FormData()));
    } catch {
      outcome = { refused: true, told: "The desk cannot be reached." };
    }
    if (outcome.refused) {
      outcomes.set(key, { ...saved, notes: [outcome.told || "That cannot be taken back."] });
    } else {
      const [animal, kind] = [key.slice(0, key.lastIndexOf(" ")), key.slice(key.lastIndexOf(" ") + 1)];
      for (const each of rows.get(animal).querySelectorAll(`[data-kind="${kind}"]`)) {
        if (each.type === "checkbox") each.checked = false;
        else each.value = "";
      }
      outcomes.delete(key);
      rows.get(animal).dataset.back = "Taken back.";
    }
    show();
  }

  function button(word, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = word;
    made.addEventListener("click", act);
    return made;
  }

  function lineOf(words, ...buttons) {
    const line = document.createElement("span");
    line.append(`${words} `, ...buttons);
    return line;
  }

  function linesOf(animal, row, entries) {
    const lines = [];
    for (const each of entries) {
      if (each.state === "waits") {
        lines.push(lineOf(`${away ? "Waits" : "Saving"}: ${say(each)}.`));
      } else if (each.state === "asks") {
        const yes = button("Yes, that is right", () => enter(row, each.kind, each.now.weight));
        const no = button("No", () => drop(each, row));
        lines.push(lineOf(each.why, yes, no));
      } else {
        lines.push(lineOf(`Not saved: ${each.why}.`, button("Leave it", () => drop(each, row))));
      }
    }
    const saved = [...outcomes].filter(([key]) => key.slice(0, key.lastIndexOf(" ")) === animal);
    if (saved.length) {
      const [key, latest] = saved[saved.length - 1];
      const back = latest.undo ? [button("Take it back", () => takeBack(key))] : [];
      const words = saved.map(([, each]) => each.said).join("; ");
      lines.push(lineOf([`Saved, ${words}.`, ...latest.notes].join(" "), ...back));
    }
    if (!lines.length && row.dataset.back) lines.push(lineOf(row.dataset.back));
    return lines;
  }

  function drop(entry, row) {
    forget(entry.id);
    const first = row.querySelector(`[data-kind="${entry.kind}"]`);
    first.value = first.type === "checkbox" ? first.value : "";
    first.focus();
    show();
  }

  // Tells in each row, and above them, what became of the entries.
  function show() {
    const entries = read();
    for (const [animal, row] of rows) {
      const own = entries.filter((each) => each.animal === animal && each.day === day);
      const lines = linesOf(animal, row, own);
      const words = lines.map((each) => each.textContent).join("\n");
      const output = row.querySelector("output");
      if (output.dataset.words === words) continue;
      output.dataset.words = words;
      output.replaceChildren(...lines);
      output.classList.toggle("wrong", own.some((each) => each.state !== "waits"));
    }
    const waits = entries.filter((each) => each.state === "waits").length;
    const elsewhere = entries.filter((each) => each.day !== day || !rows.has(each.animal));
    const parts = []; // words, and where they lead
    if (away && waits) {
      const told = waits === 1 ? "1 entry waits" : `${waits} entries wait`;
      parts.push([`${told} until the desk can be reached.`]);
    }
    for (const each of elsewhere) {
      const why = each.why ? ` is not saved: ${each.why}` : " waits.";
      parts.push([`${each.name}, ${each.day}: ${say(each)}${why}`, each.address]);
    }
    if (trouble) parts.push([trouble]);
    if (waiting.dataset.words === JSON.stringify(parts)) return;
    waiting.dataset.words = JSON.stringify(parts);
    waiting.replaceChildren(...parts.map(([words, leads]) => {
      const line = document.createElement("p");
      const held = leads ? line.appendChild(document.createElement("a")) : line;
      if (leads) held.href = leads;
      held.textContent = words;
      return line;
    }));
  }

  const rowOf = (element) => element.closest(".seen");

  form.addEventListener("change", (event) => {
    const { kind } = event.target.dataset;
    if (kind) enter(rowOf(event.target), kind);
  });
  form.addEventListener("keydown", (event) => {
    const { kind } = event.target.dataset;
    if (event.key !== "Enter" || !kind || event.isComposing) return;
    event.preventDefault();
    enter(rowOf(event.target), kind);
    const name = event.target.name.split(":")[0];
    for (let row = rowOf(event.target).nextElementSibling; row; row = row.nextElementSibling) {
      if (field(row, name)) return field(row, name).focus();
    }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  window.addEventListener("online", sendAll);
  window.addEventListener("storage", show);
  const opened = new Date().toDateString();
  document.addEventListener("visibilitychange", () => {
    const { kind } = document.activeElement.dataset;
    if (document.hidden && kind && form.contains(document.activeElement)) enter(rowOf(document.activeElement), kind);
    // a page that stood open overnight would write into the day before
    if (!document.hidden && "isToday" in form.dataset && new Date().toDateString() !== opened) location.reload();
  });

  form.querySelector("[data-plain]").hidden = true;
  for (const each of read()) {
    const row = each.day === day && rows.get(each.animal);
    for (const [name, value] of row ? Object.entries(each.now) : []) {
      const own = field(row, name);
      if (own && own.type === "checkbox") own.checked = true;
      else if (own) own.value = value;
    }
  }
  show();
  sendAll();
  const first = form.querySelector("[data-kind]");
  if (first && matchMedia("(pointer: fine)").matches && !location.hash) first.focus();
})();
