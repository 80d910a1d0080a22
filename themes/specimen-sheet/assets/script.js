/* Narrows, counts and sorts lists of animals by a sentence, which the address keeps. Without it they stand whole. */
"use strict";
(() => {
  const form = document.querySelector("[data-finding]");
  const all = (root, what) => [...root.querySelectorAll(what)];
  const lists = all(document, "[data-list]");
  if (!form || !lists.length) return;
  const said = form.dataset;
  const [output, details, summary] = ["output", "details", "summary"].map((what) => form.querySelector(what));
  const asked = summary.textContent;
  const NEAR = Object.keys(said).filter((key) => key.startsWith("near")).length;
  const fields = all(form, "select");
  const clauses = all(form, "[data-clause]");
  const calls = new Map(all(form, "option").map((option) => [option, option.text]));
  const number = (text) => Number(text.split("/").reduce((above, below) => above / below));
  const animals = lists.flatMap((list, at) =>
    [...list.children].map((entry) => ({
      entry,
      at,
      ...entry.dataset,
      shows: entry.dataset.shows.split(" "),
      has: new Map(entry.dataset.carries.split(" ").map((held) => [held.replace(/:[^:]*$/, ""), number(held.split(":").pop())])),
      price: number(entry.dataset.price || "0"),
      name: entry.querySelector("h3 a").textContent,
    })),
  );
  // The reader's own day, written as in the pages.
  const clock = new Date();
  const here = new Date(clock - clock.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  const [, today] = [here, said.day].sort();

  // How far an animal is from what is wanted: 0 fits, 1 is as far as can be.
  const same = (name) => (animal, value) => Number(animal[name] !== value);
  const gene = (animal, value, { chance }) => {
    const has = animal.has.get(value) || 0;
    return has && has >= number(chance || "0") ? 0 : 1 - has || 1;
  };
  const far = {
    sex: same("sex"),
    species: same("species"),
    shows: (animal, value) => Number(!animal.shows.includes(value)),
    gene,
    gene2: gene,
    gene3: gene,
    price: ({ price }, value) => (!price ? 1 : price > value ? Math.min(1, price / value - 1) : 0),
    go: ({ go }) => (!go ? 1 : go > today ? 0.5 : 0),
  };
  const miss = (animal, wanted, name) => (wanted[name] ? far[name](animal, wanted[name], wanted) : 0);
  const distance = (animal, wanted) => Object.keys(far).reduce((sum, name) => sum + miss(animal, wanted, name), 0);
  const fitting = (wanted) => animals.filter((animal) => !distance(animal, wanted));

  const orders = {
    price: (a, b) => (a.price || Infinity) - (b.price || Infinity) || 0,
    young: (a, b) => b.born.localeCompare(a.born),
    name: (a, b) => a.name.localeCompare(b.name),
  };

  // A part of the sentence as it reads, without conditions that are not made.
  const read = (node) => {
    if (node.nodeType === Node.TEXT_NODE) return node.data;
    if (node.matches("select")) return calls.get(node.selectedOptions[0]);
    const field = node.querySelector(":scope > select");
    return field && far[field.name] && !field.value ? "" : [...node.childNodes].map(read).join("");
  };
  const told = (holds) =>
    clauses
      .filter((clause) => all(clause, "select").some((field) => field.value && holds(field.name)))
      .map((clause) => read(clause).trim())
      .join(", ");

  let ordered = "";
  let wanted = {};
  const apply = () => {
    wanted = Object.fromEntries(fields.map((field) => [field.name, field.value]));
    const found = fitting(wanted);
    const nearer = (a, b) => distance(a, wanted) - distance(b, wanted);
    const near = found.length ? [] : [...animals].sort(nearer).slice(0, NEAR);
    const shown = new Set([...found, ...near]);
    animals.forEach((animal) => {
      animal.entry.hidden = !shown.has(animal);
      animal.entry.querySelector("[data-miss]")?.remove();
    });
    near.forEach(tellMiss);
    if (ordered !== wanted.order) [...animals].sort(orders[wanted.order] || (() => 0)).forEach(({ at, entry }) => lists[at].append(entry));
    ordered = wanted.order;
    lists.forEach((list) => {
      list.closest("section").hidden = !list.querySelector(":scope > :not([hidden])");
    });
    fields.forEach(count);
    output.textContent = found.length
      ? said.counted.replace("{shown}", found.length).replace("{all}", animals.length)
      : said[`near${near.length}`];
    title();
  };

  const tellMiss = (animal) => {
    const line = document.createElement("p");
    line.dataset.miss = "";
    line.textContent = said.missed.replace("{what}", told((name) => far[name] && miss(animal, wanted, name)));
    animal.entry.querySelector("h3").after(line);
  };

  // Beside every choice: how many would be shown with it.
  const count = (field) => {
    const later = field.closest("[data-later]");
    if (later) later.hidden = !field.value && !later.previousElementSibling.querySelector("select").value;
    if (later?.hidden || field.name === "order") return;
    all(field, "option").forEach((option) => {
      const would = fitting({ ...wanted, [field.name]: option.value }).length;
      option.text = calls.get(option) + (option.selected ? "" : ` (${would})`);
    });
  };

  // What is chosen stands above the folded sentence.
  const title = () => {
    summary.textContent = (!details.open && told((name) => far[name])) || asked;
  };

  const keep = () => {
    apply();
    history.replaceState(null, "", `#${new URLSearchParams(Object.entries(wanted).filter(([, value]) => value))}`);
  };
  const restore = () => {
    const kept = new URLSearchParams(location.hash.slice(1));
    fields.forEach((field) => {
      field.value = kept.get(field.name) || "";
      if (field.selectedIndex < 0) field.value = "";
    });
    apply();
  };

  form.addEventListener("change", keep);
  form.addEventListener("reset", () => setTimeout(keep));
  details.addEventListener("toggle", title);
  addEventListener("hashchange", restore);
  details.open = matchMedia("(min-width: 52rem)").matches;
  form.hidden = false;
  restore();
})();

/* Narrows the index of everything while one types. The words are kept in the address. */
(() => {
  const form = document.querySelector("[data-finder]");
  const lists = [...document.querySelectorAll("[data-found]")];
  if (!form || !lists.length) return;
  const field = form.querySelector("input");
  const output = form.querySelector("output");
  const none = form.querySelector(".finder-none");
  const letters = document.querySelector(".letters");
  const all = lists.flatMap((list) => [...list.children]);
  const folded = (text) =>
    text.toLowerCase().replaceAll("ß", "ss").normalize("NFKD").replace(/\p{M}/gu, "").replace(/[^\p{L}\p{N}_]+/gu, " ").trim();

  const apply = () => {
    const phrase = folded(field.value);
    const wanted = phrase.split(" ").filter(Boolean);
    const has = (entry, words) => entry.dataset.find.includes(` ${words}`);
    // What has the words one after the other, as "het amel"; else what has them all.
    const together = all.some((entry) => has(entry, phrase));
    let shown = 0;
    lists.forEach((list) => {
      let here = 0;
      [...list.children].forEach((entry) => {
        entry.hidden = !(together ? has(entry, phrase) : wanted.every((word) => has(entry, word)));
        here += entry.hidden ? 0 : 1;
      });
      list.closest("section").hidden = !here;
      shown += here;
    });
    none.hidden = shown > 0;
    if (letters) letters.hidden = wanted.length > 0;
    output.textContent = form.dataset.counted.replace("{shown}", shown).replace("{all}", all.length);
  };

  const restore = () => {
    const kept = new URLSearchParams(location.hash.slice(1)).get("find");
    if (kept !== null || !location.hash) field.value = kept || "";
    apply();
  };

  field.addEventListener("input", () => {
    apply();
    history.replaceState(null, "", field.value ? `#${new URLSearchParams({ find: field.value })}` : location.pathname);
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const first = all.find((entry) => !entry.hidden && field.value);
    if (first) location.href = first.querySelector("a").href;
  });
  addEventListener("hashchange", restore);
  form.hidden = false;
  restore();
})();
