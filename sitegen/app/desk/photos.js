// Photographs dropped on, or chosen for, whatever names a record in data-photos.
"use strict";
for (const target of document.querySelectorAll("[data-photos]")) {
  const told = target.querySelector("[data-follows]") || undefined;
  const pictures = target.querySelector("[data-pictures]");
  const send = async (files) => {
    if (!files.length) return;
    const data = new FormData();
    for (const file of files) data.append("photos", file);
    for (const name of ["day", "caption"]) {
      const field = target.querySelector(`input[name=${name}]`);
      if (field) data.append(name, field.value);
    }
    target.setAttribute("aria-busy", "true");
    try {
      const outcome = await desk.send(`/photos/${target.dataset.photos}`, data);
      desk.say(outcome, told);
      if (pictures && outcome.marks) {
        const inList = pictures.tagName === "UL";
        pictures.replaceChildren(...outcome.marks.map((mark) => {
          const image = document.createElement("img");
          image.src = `/photos/small/${mark}.jpg`;
          image.alt = `A photograph of ${target.dataset.photos}`;
          image.width = inList ? 160 : 64;
          if (!inList) return image;
          const item = document.createElement("li");
          item.append(image);
          return item;
        }));
      }
    } catch (error) {
      desk.say({ refused: true, told: error.message || "The desk does not answer.", findings: [] }, told);
    } finally {
      target.removeAttribute("aria-busy");
    }
  };
  for (const label of target.querySelectorAll("label.send")) {
    label.hidden = false;
    const field = label.querySelector("input");
    field.addEventListener("change", async () => {
      await send([...field.files]);
      field.value = "";
    });
  }
  const carriesFiles = (event) => [...event.dataTransfer.types].includes("Files");
  target.addEventListener("dragover", (event) => {
    if (!carriesFiles(event)) return;
    event.preventDefault();
    target.classList.add("dropping");
  });
  target.addEventListener("dragleave", (event) => {
    if (!target.contains(event.relatedTarget)) target.classList.remove("dropping");
  });
  target.addEventListener("drop", (event) => {
    target.classList.remove("dropping");
    if (!carriesFiles(event)) return;
    event.preventDefault();
    send([...event.dataTransfer.files]);
  });
}
