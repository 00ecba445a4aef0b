"use strict";
(() => {
  const key = (own) => "scantling:" + document.body.dataset.key + ":" + own;
  const store = {
    get: (own) => { try { return localStorage.getItem(key(own)) } catch { return null } },
    set: (own, value) => { try { value === null ? localStorage.removeItem(key(own)) : localStorage.setItem(key(own), value) } catch { /* a browser that keeps nothing */ } },
  };
  const find = (id) => document.getElementById(id);
  const boxes = [...document.querySelectorAll("input[data-step]")];
  for (const box of boxes) {
    box.checked = store.get(box.dataset.step) === "1";
    box.addEventListener("change", () => store.set(box.dataset.step, box.checked ? "1" : null));
  }
  for (const field of document.querySelectorAll("[data-field]")) {
    field.value = store.get(field.dataset.field) ?? field.defaultValue ?? "";
    field.addEventListener("input", () => store.set(field.dataset.field, field.value === (field.defaultValue ?? "") ? null : field.value));
  }
  for (const form of document.forms) form.addEventListener("submit", (event) => event.preventDefault());

  const lines = () => boxes.filter((box) => box.checked && box.dataset.marks).map((box) => box.dataset.marks).join("\n");
  const taken = find("lines");
  find("take-over").addEventListener("click", () => {
    taken.value = lines() || "# nothing is ticked that says how far a part is";
    find("ticked").hidden = false;
    taken.focus();
    taken.select();
  });
  find("save").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([taken.value + "\n"], { type: "text/plain" }));
    link.download = "ticks.txt";
    link.click();
    URL.revokeObjectURL(link.href);
  });
  find("clear").addEventListener("click", () => {
    if (!confirm("Clear all ticks of this book?")) return;
    for (const box of boxes) { box.checked = false; store.set(box.dataset.step, null); }
  });
  // What is measured twice is compared.
  for (const again of document.querySelectorAll("input[data-twice]")) {
    const first = again.closest("form").elements.namedItem(again.dataset.twice);
    const compare = () => {
      const [a, b] = [first.value.trim(), again.value.trim()];
      again.nextElementSibling.hidden = !a || !b || a === b;
    };
    compare();
    for (const input of [first, again]) input.addEventListener("input", compare);
  }

  const large = find("large");
  const pan = find("pan");
  for (const button of document.querySelectorAll(".larger")) {
    button.addEventListener("click", () => {
      pan.replaceChildren(button.closest("figure").querySelector("svg").cloneNode(true));
      large.showModal();
      pan.scrollTo(0, 0);
    });
  }
  find("close").addEventListener("click", () => large.close());

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
