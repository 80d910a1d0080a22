/* Narrows, counts and sorts the lists of animals by a sentence with choices. Without it the lists stand whole.
   The choice is kept in the address. */
"use strict";
(() => {
  const form = document.querySelector("[data-finding]");
  const lists = [...document.querySelectorAll("[data-list]")];
  if (!form || !lists.length) return;
  const said = form.dataset;
  const output = form.querySelector("output");
  const details = form.querySelector("details");
  const summary = form.querySelector("summary");
  const asked = summary.textContent;
  const NEAR = Object.keys(said).filter((key) => key.startsWith("near")).length;
  const fields = [...form.querySelectorAll("select")];
  const clauses = [...form.querySelectorAll("[data-clause]")];
  const calls = new Map(fields.flatMap((field) => [...field.options].map((option) => [option, option.text])));
  const number = (text) => Number(text.split("/").reduce((above, below) => above / below));
  const words = (text) => text.split(" ").filter(Boolean);
  const animals = lists.flatMap((list, at) =>
    [...list.children].map((entry) => ({
      entry,
      at,
      ...entry.dataset,
      shows: words(entry.dataset.shows),
      has: Object.fromEntries(words(entry.dataset.carries).map((held) => held.split(":")).map(([g, p]) => [g, number(p)])),
      price: number(entry.dataset.price || "0"),
      name: entry.querySelector("h3 a").textContent,
    })),
  );
  // The reader's own day, as it is written in the pages: 2026-12-05.
  const clock = new Date();
  const here = new Date(clock - clock.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  const today = here > said.day ? here : said.day;

  // How far an animal is from what is wanted: 0 fits, 1 is as far as can be.
  const same = (name) => (animal, value) => Number(animal[name] !== value);
  const gene = (animal, value, { chance }) => {
    const has = animal.has[value] || 0;
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
  const misses = (animal, wanted) =>
    Object.keys(far).map((name) => (wanted[name] ? far[name](animal, wanted[name], wanted) : 0));
  const distance = (animal, wanted) => misses(animal, wanted).reduce((sum, miss) => sum + miss, 0);
  const fitting = (wanted) => animals.filter((animal) => !distance(animal, wanted));

  const orders = {
    price: (a, b) => (a.price || Infinity) - (b.price || Infinity) || 0,
    young: (a, b) => b.born.localeCompare(a.born),
    name: (a, b) => a.name.localeCompare(b.name, document.documentElement.lang),
  };

  // A part of the sentence as it reads with what is chosen; conditions that are not made are passed over.
  const read = (node) => {
    if (node.nodeType === Node.TEXT_NODE) return node.data;
    if (node.matches("select")) return calls.get(node.selectedOptions[0]);
    const field = node.querySelector(":scope > select");
    return field && far[field.name] && !field.value ? "" : [...node.childNodes].map(read).join("");
  };
  const told = (holds) =>
    clauses
      .filter((clause) => [...clause.querySelectorAll("select")].some((field) => field.value && holds(field.name)))
      .map((clause) => read(clause).trim())
      .join(", ");

  let ordered = "";
  let wanted = {};
  const apply = () => {
    wanted = Object.fromEntries(fields.map((field) => [field.name, field.value]));
    const found = fitting(wanted);
    const near = [...animals].sort((a, b) => distance(a, wanted) - distance(b, wanted)).slice(0, NEAR);
    const shown = new Set(found.length ? found : near);
    animals.forEach((animal) => {
      animal.entry.hidden = !shown.has(animal);
      animal.entry.querySelector("[data-miss]")?.remove();
    });
    if (!found.length) near.forEach(tellMiss);
    if (ordered !== (wanted.order || "")) {
      ordered = wanted.order || "";
      const sorted = ordered ? [...animals].sort(orders[ordered]) : animals;
      sorted.forEach((animal) => lists[animal.at].append(animal.entry));
    }
    lists.forEach((list, at) => {
      list.closest("section").hidden = ![...shown].some((animal) => animal.at === at);
    });
    fields.forEach(count);
    output.textContent = found.length
      ? said.counted.replace("{shown}", found.length).replace("{all}", animals.length)
      : said[`near${near.length}`];
    title();
  };

  const tellMiss = (animal) => {
    const missed = Object.keys(far).filter((name, at) => misses(animal, wanted)[at]);
    const words = document.createElement("p");
    words.dataset.miss = "";
    words.textContent = said.missed.replace("{what}", told((name) => missed.includes(name)));
    animal.entry.querySelector("h3").after(words);
  };

  // Beside every choice: how many would be shown with it.
  const count = (field) => {
    const later = field.closest("[data-later]");
    if (later) later.hidden = !field.value && !later.previousElementSibling.querySelector("select").value;
    if (later?.hidden || field.name === "order") return;
    [...field.options].forEach((option) => {
      const would = option.selected ? "" : ` (${fitting({ ...wanted, [field.name]: option.value }).length})`;
      option.text = calls.get(option) + would;
    });
  };

  // What is chosen stands above the folded sentence.
  const title = () => {
    summary.textContent = (!details.open && told((name) => far[name])) || asked;
  };

  const keep = () => {
    apply();
    const chosen = new URLSearchParams(Object.entries(wanted).filter(([, value]) => value));
    history.replaceState(null, "", `#${chosen}`);
  };
  const restore = () => {
    const kept = new URLSearchParams(location.hash.slice(1));
    fields.forEach((field) => {
      const value = kept.get(field.name) || "";
      field.value = [...field.options].some((option) => option.value === value) ? value : "";
    });
    apply();
  };

  form.addEventListener("change", keep);
  form.addEventListener("submit", (event) => event.preventDefault());
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
