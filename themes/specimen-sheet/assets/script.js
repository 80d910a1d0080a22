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
  const title = summary.textContent;
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
  const gene = (animal, value, wanted) => {
    const has = animal.has[value] || 0;
    return has && has >= number(wanted.chance || "0") ? 0 : 1 - has || 1;
  };
  const far = {
    sex: (animal, value) => (animal.sex === value ? 0 : 1),
    species: (animal, value) => (animal.species === value ? 0 : 1),
    shows: (animal, value) => (animal.shows.includes(value) ? 0 : 1),
    gene,
    gene2: gene,
    gene3: gene,
    price: (animal, value) => (!animal.price ? 1 : animal.price > value ? Math.min(1, animal.price / value - 1) : 0),
    go: (animal) => (!animal.go ? 1 : animal.go > today ? 0.5 : 0),
  };
  const asked = (wanted) => Object.keys(far).filter((name) => wanted[name]);
  const fits = (animal, wanted) => asked(wanted).every((name) => !far[name](animal, wanted[name], wanted));

  const orders = {
    price: (a, b) => (a.price || Infinity) - (b.price || Infinity) || 0,
    young: (a, b) => b.born.localeCompare(a.born),
    name: (a, b) => a.name.localeCompare(b.name, document.documentElement.lang),
  };

  // A part of the sentence as it reads with what is chosen.
  const read = (node) => {
    const field = node.nodeType === Node.TEXT_NODE ? null : node.querySelector(":scope > select");
    if (node.matches?.("select")) return calls.get(node.selectedOptions[0]);
    if (field && far[field.name] && !field.value) return "";
    return node.childNodes.length ? [...node.childNodes].map(read).join("") : node.data || "";
  };
  const isAsked = (clause) => [...clause.querySelectorAll("select")].some((field) => field.value && far[field.name]);

  let ordered = "";
  const apply = () => {
    const wanted = Object.fromEntries(fields.map((field) => [field.name, field.value]));
    const found = animals.filter((animal) => fits(animal, wanted));
    const near = found.length ? [] : nearest(wanted);
    const shown = new Set([...found, ...near]);
    animals.forEach((animal) => {
      animal.entry.hidden = !shown.has(animal);
      animal.entry.querySelector("[data-miss]")?.remove();
    });
    near.forEach((animal) => tellMiss(animal, wanted));
    if (ordered !== (wanted.order || "")) {
      ordered = wanted.order || "";
      const sorted = ordered ? [...animals].sort(orders[ordered]) : animals;
      sorted.forEach((animal) => lists[animal.at].append(animal.entry));
    }
    lists.forEach((list, at) => {
      list.closest("section").hidden = ![...shown].some((animal) => animal.at === at);
    });
    fields.forEach((field) => count(field, wanted));
    output.textContent = found.length
      ? said.counted.replace("{shown}", found.length).replace("{all}", animals.length)
      : said[`near${near.length}`];
    summary.textContent = clauses.filter(isAsked).map((clause) => read(clause).trim()).join(", ") || title;
    return wanted;
  };

  const nearest = (wanted) => {
    const sum = (animal) => asked(wanted).reduce((all, name) => all + far[name](animal, wanted[name], wanted), 0);
    const most = Object.keys(said).filter((key) => /^near\d/.test(key)).length;
    return animals.map((animal) => [sum(animal), animal]).sort((a, b) => a[0] - b[0]).slice(0, most).map(([, a]) => a);
  };

  const tellMiss = (animal, wanted) => {
    const missed = clauses.filter((clause) =>
      [...clause.querySelectorAll("select")].some(
        ({ name, value }) => value && far[name] && far[name](animal, value, wanted),
      ),
    );
    const told = document.createElement("p");
    told.dataset.miss = "";
    told.textContent = said.missed.replace("{what}", missed.map((clause) => read(clause).trim()).join(", "));
    animal.entry.querySelector("h3").after(told);
  };

  // Beside every choice: how many would be shown with it.
  const count = (field, wanted) => {
    const later = field.closest("[data-later]");
    const before = later?.previousElementSibling.querySelector("select");
    if (later) later.hidden = !field.value && !before.value;
    if (!later?.hidden && field.name !== "order")
      [...field.options].forEach((option) => {
        const would = { ...wanted, [field.name]: option.value };
        const fitting = option.selected ? "" : ` (${animals.filter((animal) => fits(animal, would)).length})`;
        option.text = calls.get(option) + fitting;
      });
  };

  const keep = (wanted) => {
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

  form.addEventListener("change", () => keep(apply()));
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", () => setTimeout(() => keep(apply())));
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
  const folded = (text) => text.toLowerCase().replaceAll("ß", "ss").normalize("NFKD").replace(/\p{M}/gu, "");

  const apply = () => {
    const wanted = folded(field.value).split(/\s+/).filter(Boolean);
    let shown = 0;
    lists.forEach((list) => {
      let here = 0;
      [...list.children].forEach((entry) => {
        entry.hidden = !wanted.every((word) => entry.dataset.find.includes(word));
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
