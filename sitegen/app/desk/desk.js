// What the pages of the desk share. Everything works without it; with it, a form that is marked so is sent as it is
// entered, and what came of it is told in place.
"use strict";
const desk = (() => {
  const token = document.currentScript.dataset.token;

  // Sends a form's fields (FormData) and gives what the desk said of them.
  async function send(address, fields) {
    const answer = await fetch(address, {
      method: "POST",
      body: fields,
      headers: { Accept: "application/json", "X-Desk-Token": token },
    });
    if (answer.status !== 200 && answer.status !== 422) {
      throw Object.assign(new Error(await answer.text()), { status: answer.status });
    }
    return answer.json();
  }

  // Puts what came of a change where screen readers are told of it, with the way back.
  function say(outcome, place = document.querySelector("[data-said]")) {
    place.replaceChildren();
    const line = (text, kind) => {
      const paragraph = document.createElement("p");
      paragraph.textContent = text;
      if (kind) paragraph.className = kind;
      place.append(paragraph);
    };
    place.classList.toggle("wrong", outcome.refused);
    if (outcome.refused) line("Nothing was changed.");
    if (outcome.told) line(outcome.told);
    for (const each of outcome.findings) line(each.hint ? `${each.message}. ${each.hint}` : each.message, "hint");
    if (outcome.undo) {
      const form = document.createElement("form");
      form.method = "post";
      form.action = `/changes/${outcome.undo}/undo`;
      const held = document.createElement("input");
      held.type = "hidden";
      held.name = "token";
      held.value = token;
      const button = document.createElement("button");
      button.textContent = "Take it back";
      form.append(held, button);
      place.append(form);
    }
  }

  return { send, say, token };
})();
