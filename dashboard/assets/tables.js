/* Tables built from their content, saved as files, and the rows behind a figure. */
(function () {
  "use strict";

  let waitsForRows = false;

  function make(name, className, parts) {
    const made = document.createElement(name);
    if (className) {
      made.className = className;
    }
    made.append(...(parts || []));
    return made;
  }

  /* A cell comes as what is shown, or with its value and the key of the rows behind it. */
  function parts(cell) {
    const [shown, value, opens] = Array.isArray(cell) ? cell : [cell, null, ""];
    return { shown: shown, value: value === null ? shown : value, opens: opens };
  }

  function inside(cell) {
    if (!cell.opens) {
      return cell.shown;
    }
    const button = make("button", "opens", [cell.shown]);
    button.type = "button";
    button.dataset.opens = cell.opens;
    return button;
  }

  function line(content, row) {
    return make("tr", "", row.map((given, place) => {
      const cell = parts(given);
      const [label, isNumber] = content.columns[place];
      const made = make(place === 0 ? "th" : "td", isNumber ? "number-cell" : "word-cell", [inside(cell)]);
      if (place === 0) {
        made.scope = "row";
        made.classList.toggle("bare-number", /^[\d.,\s]+$/.test(made.textContent)); /* a card's head: of what? */
      }
      made.dataset.label = label;
      return made;
    }));
  }

  function heading(content, order, place, redraw) {
    const [label, isNumber] = content.columns[place];
    const made = make("th", isNumber ? "number-cell" : "word-cell");
    made.scope = "col";
    if (!content.sorted) {
      made.append(label);
      return made;
    }
    const isByThis = order.place === place;
    const button = make("button", "sorts", [label]);
    button.type = "button";
    button.addEventListener("click", () => redraw({ place: place, falls: isByThis && !order.falls }));
    made.setAttribute("aria-sort", isByThis ? (order.falls ? "descending" : "ascending") : "none");
    made.append(button);
    return made;
  }

  function inOrder(rows, order) {
    const value = (row) => parts(row[order.place]).value;
    const compare = (one, other) => typeof one === "number" && typeof other === "number"
      ? one - other : String(one).localeCompare(String(other));
    return rows.slice().sort((one, other) => (order.falls ? -1 : 1) * compare(value(one), value(other)));
  }

  function draw(room, order) {
    const content = JSON.parse(room.dataset.table);
    const held = order && room.contains(document.activeElement);
    const place = order || { place: 0, falls: false };
    const redraw = (next) => draw(room, next);
    const table = make("table", "figures-table");
    table.append(make("caption", "unseen", [content.name]));
    table.append(make("thead", "", [make("tr", "", content.columns.map((_, at) => heading(content, place, at, redraw)))]));
    const rows = content.sorted ? inOrder(content.rows, place) : content.rows;
    table.append(make("tbody", "", rows.map((row) => line(content, row))));
    if (content.totals.length) {
      table.append(make("tbody", "totals", content.totals.map((row) => line(content, row))));
    }
    const region = make("div", "wide", [table]);
    region.tabIndex = 0;
    region.setAttribute("role", "region");
    region.setAttribute("aria-label", content.name);
    const button = make("button", "plain-button", [content.save]);
    button.type = "button";
    button.addEventListener("click", () => save(content.name, csvOf(content, rows)));
    room.replaceChildren(region, button);
    if (held) {
      room.querySelector(`thead th:nth-child(${place.place + 1}) button`).focus();
    }
  }

  /* A cell that a spreadsheet would run as a formula is made text; numbers stay numbers. */
  function field(value) {
    const text = String(value);
    const safe = typeof value !== "number" && /^[=+\-@\t\r]/.test(text) ? "'" + text : text;
    return /[",\n\r]/.test(safe) ? '"' + safe.replaceAll('"', '""') + '"' : safe;
  }

  function csvOf(content, rows) {
    const lines = [content.columns.map(([label]) => label), ...[...rows, ...content.totals].map((row) =>
      row.map((cell) => parts(cell).value))];
    return lines.map((cells) => cells.map(field).join(",") + "\r\n").join("");
  }

  function save(name, text) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob(["\ufeff" + text], { type: "text/csv;charset=utf-8" }));
    link.download = name.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 80) + ".csv";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }

  new MutationObserver((changes) => {
    for (const change of changes) {
      if (change.type === "attributes") {
        draw(change.target);
        continue;
      }
      for (const node of change.addedNodes) {
        if (node.nodeType === Node.ELEMENT_NODE) {
          (node.matches("[data-table]") ? [node] : node.querySelectorAll("[data-table]")).forEach((room) => draw(room));
        }
      }
    }
  }).observe(document.documentElement, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-table"] });

  function ask(key) {
    waitsForRows = true;
    window.dash_clientside.set_props("opened", { data: { key: key, asked: performance.now() } });
  }

  document.addEventListener("click", (event) => {
    const at = (what) => event.target.closest && event.target.closest(what);
    const figure = at("[data-opens]");
    const closes = at("[data-close]");
    if (figure) {
      ask(figure.dataset.opens);
    } else if (closes) {
      document.getElementById(closes.dataset.close).close();
    } else if (event.target.tagName === "DIALOG") {
      event.target.close(); /* beside the drawer */
    }
  });

  /* A table that is open asks for its content when its summary is clicked: twice more, and it is still open. */
  function askAgain() {
    document.querySelectorAll("details[open] > summary[id]").forEach((summary) => {
      const known = window.dash_component_api.getLayout(summary.id);
      if (known && known.props.n_clicks % 2 === 1) {
        window.dash_clientside.set_props(summary.id, { n_clicks: known.props.n_clicks + 2 });
      }
    });
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    tables: { askAgain: askAgain },
    drawer: {
      ask: function (click) {
        const data = click && click.points && click.points[0] && click.points[0].customdata;
        const last = Array.isArray(data) ? data[data.length - 1] : data;
        if (typeof last === "string" && last.startsWith("rows:")) {
          ask(last);
        }
      },
      open: function () {
        const dialog = document.getElementById("drawer");
        if (waitsForRows && dialog) {
          waitsForRows = false;
          if (!dialog.open) {
            dialog.showModal();
          }
          dialog.scrollTop = 0;
        }
      },
    },
  });
})();
