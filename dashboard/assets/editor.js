/* The form of all numbers, built from its content; what is changed goes to the server one change after the other. */
(function () {
  "use strict";

  const waiting = []; /* changes not yet sent */
  let sent = 0; /* number of the change under way, 0 for none */
  let number = 0;
  const shut = new Set(); /* paths of sections that are shut */
  let told = ""; /* why the last change of the engines could not be */

  function make(name, className, parts) {
    const made = document.createElement(name);
    if (className) {
      made.className = className;
    }
    made.append(...(parts || []));
    return made;
  }

  function button(text, className, what) {
    const made = make("button", className, [text]);
    made.type = "button";
    made.addEventListener("click", what);
    return made;
  }

  function change(what) {
    told = "";
    waiting.push(what);
    sendNext();
  }

  function sendNext() {
    if (!sent && waiting.length) {
      sent = ++number;
      window.dash_clientside.set_props("edit", { data: Object.assign({ number: sent }, waiting.shift()) });
      const mine = sent;
      setTimeout(() => done(mine), 10000); /* an answer that never came holds up nothing */
    }
  }

  function done(which) {
    if (sent === which) {
      sent = 0;
      sendNext();
    }
  }

  function answered(answer) {
    told = answer.told;
    done(answer.number);
    const room = document.querySelector("[data-form]");
    if (told && room) {
      draw(room);
    }
  }

  /* What is wrong at a place, or within it where nothing finer shows it. */
  function problemAt(problems, path) {
    if (path in problems) {
      problems[path].shown = true;
      return problems[path].text;
    }
    const within = Object.keys(problems).find((key) => path.startsWith(key + "[") && !problems[key].shown);
    if (within && /^\[\d+\]$/.test(path.slice(within.length))) {
      problems[within].shown = true;
      return problems[within].text;
    }
    return "";
  }

  function input(field, value, path, label, problems, words) {
    const isChoice = field.kind === "choice" || (field.kind === "flag" && field.optional);
    const control = document.createElement(isChoice ? "select" : "input");
    if (isChoice) {
      const choices = field.optional || value === null ? ["", ...field.choices] : field.choices;
      choices.forEach((choice) => control.append(new Option(choice || "–", choice)));
      control.value = value === null || value === undefined ? "" : String(value);
    } else if (field.kind === "flag") {
      control.type = "checkbox";
      control.checked = value === true;
    } else {
      control.type = field.kind === "date" ? "date" : "text";
      if (field.kind === "number") {
        control.inputMode = "decimal";
        control.size = 8;
      }
      const shown = value === null || value === undefined ? "" : String(value);
      control.value = typeof value === "number" ? shown.replace(".", words.decimal) : shown;
      control.placeholder = field.optional ? "–" : "";
    }
    control.className = `entry entry-${field.kind}`;
    control.dataset.path = path;
    control.dataset.given = control.value;
    control.setAttribute("aria-label", label);
    control.title = field.help || "";
    control.addEventListener("change", () => {
      const raw = control.type === "checkbox" ? control.checked : control.value.trim();
      const kind = field.choices && field.choices[0] === "true" ? "flag" : field.kind;
      change(raw === "" && field.optional ? { does: "clear", path: path } : { does: "set", path: path, raw: raw, kind: kind });
    });
    const problem = problemAt(problems, path);
    if (!problem) {
      return [control];
    }
    const told = make("span", "problem", [problem]);
    told.id = `problem-${path}`;
    told.setAttribute("role", "alert");
    control.setAttribute("aria-invalid", "true");
    control.setAttribute("aria-describedby", told.id);
    return [control, told];
  }

  function fieldOf(item, around) {
    const unit = item.unit ? make("span", "unit-beside", [item.unit]) : "";
    const label = make("label", "entry-label", [item.label]);
    const parts = input(item, item.value, item.path, item.label, around.problems, around.words);
    label.append(make("span", "entry-with-unit", [parts[0], unit]));
    return make("div", "entry-field", [label, make("p", "help", [item.help]), ...parts.slice(1)]);
  }

  function headOf(column) {
    const made = make("th", "", [column.label + (column.unit ? `, ${column.unit}` : "")]);
    made.scope = "col";
    made.title = column.help || "";
    return made;
  }

  function lineOf(item, row, index, around) {
    const cells = row.cells.map((cell, place) => {
      const column = item.columns[place] || { kind: "text" };
      const label = `${column.label || item.label} ${place + 1}, ${item.label} ${index + 1}`;
      const made = make("td", "", input(column, cell.value, cell.path, label, around.problems, around.words));
      made.dataset.label = column.label || "";
      return made;
    });
    const removes = button("×", "remove-line", () => change({ does: "remove", path: item.path, line: index }));
    removes.setAttribute("aria-label", `${around.words.remove}: ${item.label} ${index + 1}`);
    const lines = [make("tr", "", [...cells, make("td", "", item.fixed ? [] : [removes])])];
    row.inner.forEach((inner) => {
      const cell = make("td", "inner", [tableOf(inner, around, true)]);
      cell.colSpan = cells.length + 1;
      lines.push(make("tr", "", [cell]));
    });
    return lines;
  }

  function tableOf(item, around, isInner) {
    const help = isInner ? [] : [make("p", "help", [item.help + (item.unit ? ` [${item.unit}]` : "")])];
    const parts = isInner ? [] : [make("h4", "entry-title", [item.label]), ...help];
    const problem = problemAt(around.problems, item.path);
    if (problem) {
      parts.push(make("p", "problem", [problem]));
    }
    if (item.rows.length) {
      const head = make("tr", "", [...item.columns.map(headOf), make("th")]);
      const body = make("tbody", "", item.rows.flatMap((row, index) => lineOf(item, row, index, around)));
      const table = make("table", "entries", [make("thead", "", item.columns.some((one) => one.label) ? [head] : []), body]);
      parts.push(make("div", "wide", [table]));
    }
    if (!item.fixed || !item.rows.length) {
      parts.push(button(`${around.words.add}: ${item.label}`, "plain-button", () => change({ does: "add", path: item.path })));
    }
    return make("section", "entry-table", parts);
  }

  function groupOf(item, around, isOuter) {
    const problem = problemAt(around.problems, item.path);
    const told = problem ? [make("p", "problem", [problem])] : [];
    const help = item.help ? [make("p", "help", [item.help])] : [];
    if (!item.there) {
      const adds = button(`${around.words.addTable}: ${item.label}`, "plain-button", () => change({ does: "add", path: item.path }));
      return make("div", "entry-group", [...help, adds, ...told]);
    }
    const fields = item.items.filter((one) => "value" in one).map((one) => fieldOf(one, around));
    const rest = item.items.filter((one) => !("value" in one)).map((one) =>
      one.kind === "table" ? tableOf(one, around) : groupOf(one, around, false));
    const inside = [...help, ...told, make("div", "entry-fields", fields), ...rest];
    if (!isOuter) {
      return make("div", "entry-group", [make("h4", "entry-title", [item.label]), ...inside]);
    }
    const section = make("details", "entry-section", [make("summary", "", [item.label]), ...inside]);
    const isWrong = section.querySelector(".problem") !== null;
    section.open = !shut.has(item.path) || isWrong;
    section.addEventListener("toggle", () => shut[section.open ? "delete" : "add"](item.path));
    return section;
  }

  function changesOf(content) {
    const words = content.words;
    const title = make("h3", "finding", [words.changed]);
    if (!content.changes.length) {
      return make("section", "changes", [title, make("p", "help", [words.nothing])]);
    }
    const head = make("tr", "", [words.place, words.file, words.now, ""].map((word) => make("th", "word-cell", [word])));
    const lines = content.changes.map((one) => {
      const back = button(words.back, "plain-button", () => change({ does: one.does, path: one.path }));
      back.setAttribute("aria-label", `${words.back}: ${one.path}`);
      return make("tr", "", [make("th", "word-cell", [one.path]), make("td", "word-cell", [one.file]),
        make("td", "word-cell", [one.now]), make("td", "", [back])]);
    });
    return make("section", "changes", [title, make("div", "wide", [
      make("table", "figures-table", [make("thead", "", [head]), make("tbody", "", lines)])])]);
  }

  function choiceOf(content) {
    const parts = content.parts.map(([part, name]) => {
      const one = button(name, "part-name", () => window.dash_clientside.set_props("edit-part", { data: part }));
      one.setAttribute("aria-pressed", String(part === content.part));
      return one;
    });
    const made = make("div", "part-names", parts);
    made.setAttribute("role", "group");
    made.setAttribute("aria-label", content.words.part);
    return made;
  }

  /* What can be done with the engine in sight, and another one to be added. */
  function engineWays(content) {
    const words = content.words;
    const engines = content.engines;
    const name = engines.names[Number(content.part)];
    const ways = [];
    if (name !== undefined && !engines.isFull) {
      ways.push(button(words.copy, "plain-button", () => change({ does: engines.does.copy, path: "", name: name })));
    }
    if (name !== undefined && engines.names.length > 1) {
      ways.push(button(words.takeOut, "plain-button", () => change({ does: engines.does.takeOut, path: "", name: name })));
    }
    if (name === undefined && !engines.isFull) {
      const choice = document.createElement("select");
      choice.className = "entry entry-choice";
      engines.library.forEach(([file, title]) => choice.append(new Option(title, file)));
      const label = make("label", "entry-label", [words.fromLibrary, choice]);
      ways.push(label, button(words.addIt, "plain-button", () => change({ does: engines.does.add, path: "", name: choice.value })));
    }
    if (engines.isFull) {
      ways.push(make("p", "help", [words.full]));
    }
    const made = make("div", "engine-ways", ways);
    made.setAttribute("role", "group");
    made.setAttribute("aria-label", words.addEngine);
    if (told) {
      const problem = make("p", "problem", [told]);
      problem.setAttribute("role", "alert");
      made.append(problem);
    }
    return made;
  }

  function draw(room) {
    const content = JSON.parse(room.dataset.form);
    const problems = {};
    Object.entries(content.problems).forEach(([path, text]) => { problems[path] = { text: text, shown: false }; });
    const around = { problems: problems, words: content.words };
    const focused = room.contains(document.activeElement) ? document.activeElement : null;
    const kept = focused && { path: focused.dataset.path, value: focused.value, given: focused.dataset.given, text: focused.textContent };
    const drawn = content.sections.map((item) => groupOf(item, around, true));
    const others = Object.entries(problems).filter(([, one]) => !one.shown).map(([path, one]) =>
      make("p", "problem", [`${path}: ${one.text}`]));
    room.replaceChildren(...others, changesOf(content), choiceOf(content), engineWays(content), ...drawn);
    if (kept) {
      const again = kept.path
        ? Array.from(room.querySelectorAll("[data-path]")).find((one) => one.dataset.path === kept.path)
        : Array.from(room.querySelectorAll("button, summary")).find((one) => one.textContent === kept.text);
      if (again) {
        if (kept.path && kept.value !== kept.given && again.type !== "checkbox") {
          again.value = kept.value; /* being typed */
        }
        again.focus({ preventScroll: true });
      }
    }
  }

  new MutationObserver((changes) => {
    for (const one of changes) {
      if (one.type === "attributes") {
        draw(one.target);
      }
      for (const node of one.addedNodes) {
        if (node.nodeType === Node.ELEMENT_NODE) {
          (node.matches("[data-form]") ? [node] : node.querySelectorAll("[data-form]")).forEach(draw);
        }
      }
    }
  }).observe(document.documentElement, { subtree: true, childList: true, attributes: true, attributeFilter: ["data-form"] });

  window.dash_clientside = Object.assign({}, window.dash_clientside, { editor: { done: answered } });
})();
