"use strict";
(() => {
  const key = (box) => "scantling:" + document.body.dataset.key + ":" + box.dataset.step;
  const boxes = [...document.querySelectorAll("input[data-step]")];
  const store = {
    get: (name) => { try { return localStorage.getItem(name) } catch { return null } },
    set: (name, value) => { try { value ? localStorage.setItem(name, "1") : localStorage.removeItem(name) } catch { /* a browser that keeps nothing */ } },
  };
  for (const box of boxes) {
    box.checked = store.get(key(box)) === "1";
    box.addEventListener("change", () => store.set(key(box), box.checked));
  }
  const lines = () => boxes.filter((box) => box.checked && box.dataset.marks).map((box) => box.dataset.marks).join("\n");
  const field = document.getElementById("lines");
  document.getElementById("take-over").addEventListener("click", () => {
    field.value = lines() || "# nothing is ticked that says how far a part is";
    document.getElementById("ticked").hidden = false;
    field.focus();
    field.select();
  });
  document.getElementById("save").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([field.value + "\n"], { type: "text/plain" }));
    link.download = "ticks.txt";
    link.click();
    URL.revokeObjectURL(link.href);
  });
  document.getElementById("clear").addEventListener("click", () => {
    for (const box of boxes) { box.checked = false; store.set(key(box), false); }
  });
  for (const button of document.querySelectorAll(".make-text")) {
    button.addEventListener("click", () => {
      const form = button.closest("form");
      const out = form.querySelector("textarea");
      out.value = form.dataset.text.replace(/\{(\w+)\}/g, (_, name) => {
        const value = (form.elements.namedItem(name)?.value ?? "").trim();
        return /^[\d\s.\/]+$/.test(value) ? value + form.dataset.unit : value || "?";
      });
      out.parentElement.hidden = false;
      out.focus();
      out.select();
    });
  }
})();
