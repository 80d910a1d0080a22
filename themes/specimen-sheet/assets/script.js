/* Narrows and sorts the lists of animals. Without it the lists stand whole. The choice is kept in the address. */
"use strict";
(() => {
  const form = document.querySelector("[data-sieve]");
  const lists = [...document.querySelectorAll("[data-list]")];
  if (!form || !lists.length) return;
  const entries = lists.map((list) => [...list.children]);
  const output = form.querySelector("output");
  const fields = [...form.querySelectorAll("select")];

  let moved = false;

  const number = (text) => {
    const [above, below] = text.split("/");
    return Number(above) / Number(below || 1);
  };
  const words = (text) => (text || "").split(" ").filter(Boolean);
  const carries = (entry, gene, least) =>
    words(entry.dataset.carries).some((held) => {
      const at = held.lastIndexOf(":");
      return held.slice(0, at) === gene && number(held.slice(at + 1)) >= number(least || "0");
    });

  const fits = (entry, wanted) =>
    (!wanted.shows || words(entry.dataset.shows).includes(wanted.shows)) &&
    (!wanted.carries || carries(entry, wanted.carries, wanted.chance)) &&
    (!wanted.sex || entry.dataset.sex === wanted.sex) &&
    (!wanted.state || entry.dataset.state === wanted.state);

  const orders = {
    price: (a, b) => (Number(a.dataset.price) || Infinity) - (Number(b.dataset.price) || Infinity) || 0,
    young: (a, b) => b.dataset.born.localeCompare(a.dataset.born),
    name: (a, b) => a.dataset.name.localeCompare(b.dataset.name, document.documentElement.lang),
  };

  const apply = () => {
    const wanted = Object.fromEntries(fields.map((field) => [field.name, field.value]));
    let shown = 0;
    lists.forEach((list, at) => {
      const sorted = orders[wanted.order] ? [...entries[at]].sort(orders[wanted.order]) : entries[at];
      sorted.forEach((entry) => {
        entry.hidden = !fits(entry, wanted);
        shown += entry.hidden ? 0 : 1;
      });
      if (moved || wanted.order) list.append(...sorted);
      list.closest("section").hidden = entries[at].every((entry) => entry.hidden);
    });
    moved = Boolean(wanted.order);
    const all = entries.flat().length;
    output.textContent = form.dataset.counted.replace("{shown}", shown).replace("{all}", all);
    return wanted;
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
