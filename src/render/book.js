"use strict";
(() => {
  const key = (box) => "scantling:" + document.body.dataset.key + ":" + box.dataset.step;
  const boxes = [...document.querySelectorAll("input[data-step]")];
  const store = {
    get: (name) => { try { return localStorage.getItem(name) } catch { return null } },
    set: (name, value) => { try { value ? localStorage.setItem(name, value) : localStorage.removeItem(name) } catch { /* a browser that keeps nothing */ } },
  };
  for (const box of boxes) {
    box.checked = store.get(key(box)) === "1";
    box.addEventListener("change", () => store.set(key(box), box.checked ? "1" : ""));
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
    for (const box of boxes) { box.checked = false; store.set(key(box), ""); }
  });
  // What is written into a form stays too.
  for (const input of document.querySelectorAll(".form input, .form select")) {
    const form = input.closest("form");
    const page = input.closest("article").querySelector(".signs").textContent;
    const name = "scantling:" + document.body.dataset.key + ":" + page + ":" + (input.name || "again:" + input.dataset.twice);
    const kept = store.get(name);
    if (kept !== null) input.value = kept;
    const compare = () => {
      const again = form.querySelector(`[data-twice="${input.name || input.dataset.twice}"]`);
      if (!again) return;
      const first = form.elements.namedItem(again.dataset.twice).value.trim();
      again.nextElementSibling.hidden = !first || !again.value.trim() || first === again.value.trim();
    };
    compare();
    input.addEventListener("change", () => { store.set(name, input.value); compare(); });
  }
  for (const button of document.querySelectorAll(".make-text")) {
    button.addEventListener("click", () => {
      const form = button.closest("form");
      const out = form.querySelector("textarea");
      const written = (name) => {
        const field = form.elements.namedItem(name);
        const value = (field?.value ?? "").trim();
        return value && field.dataset.chosen === undefined && /^[\d .\/]+$/.test(value) ? value + form.dataset.unit : value;
      };
      const filled = (piece) => {
        if (piece.text !== undefined) return piece.text;
        if (piece.value !== undefined) return written(piece.value) || "?";
        const [before, pieces, after] = piece.line ?? piece.lines;
        const inner = piece.lines
          ? pieces.map(filled).join("")
          : pieces.filter(([, name]) => written(name)).map(([property, name]) => `${property} = ${written(name)}`).join(", ");
        return inner && before + inner + after;
      };
      out.value = JSON.parse(form.dataset.text).map(filled).join("");
      out.parentElement.hidden = false;
      out.focus();
      out.select();
    });
  }
})();
