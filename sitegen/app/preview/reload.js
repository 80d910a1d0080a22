// Served by "sitegen preview" alone; no published page has it. Waits for the next state of the site, then loads the
// page again at the place where it was scrolled to. The wait is a script that the server sends when something changed,
// because the site's own policy allows scripts from the site and no other connection. It also leads the keeper to the
// pages that are for print and that no page of the site links to.
"use strict";
(() => {
  const own = document.currentScript;
  const key = "sitegen-preview " + location.pathname;

  let reloading = false;
  // A browser goes back by itself to where this very page was, which may have been a list of troubles.
  addEventListener("pagehide", () => (history.scrollRestoration = reloading ? "manual" : "auto"));

  function wait() {
    const script = document.createElement("script");
    script.src = "/_preview/after/" + own.dataset.state + ".js";
    script.onload = () => script.remove();
    script.onerror = () => {
      script.remove();
      setTimeout(wait, 1000); // the preview was stopped; it may be started again
    };
    document.head.append(script);
  }

  function reload() {
    if (!("trouble" in own.dataset)) {
      sessionStorage.setItem(key, String(scrollY));
    }
    reloading = true;
    location.reload();
  }

  function leadToPrint() {
    const bar = document.createElement("nav");
    bar.setAttribute("aria-label", "In the preview alone");
    bar.append("In the preview alone, for print:");
    for (const [words, address] of [["Price list", "print/price-list.html"], ["Tub cards", "print/tub-cards.html"]]) {
      const link = document.createElement("a");
      link.href = "/" + address;
      link.textContent = words;
      link.style.marginInline = "0.6em";
      bar.append(" ", link);
    }
    bar.style.cssText = "padding: 0.8rem 1rem; text-align: center; line-height: 1.8";
    addEventListener("beforeprint", () => (bar.hidden = true));
    addEventListener("afterprint", () => (bar.hidden = false));
    document.body.append(bar);
  }

  function begin() {
    if (!("trouble" in own.dataset)) {
      leadToPrint();
    }
    const kept = sessionStorage.getItem(key);
    if (kept !== null && !("trouble" in own.dataset)) {
      sessionStorage.removeItem(key);
      scrollTo({ top: Number(kept), behavior: "instant" });
    }
    wait();
  }

  document.addEventListener("sitegen-preview", (event) => (event.detail === "changed" ? reload() : wait()));
  if (document.readyState === "complete") {
    begin();
  } else {
    addEventListener("load", begin);
  }
})();
