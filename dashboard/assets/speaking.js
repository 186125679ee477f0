/* A language, units or a format are chosen: the browser keeps that for a year and opens the page anew, with what was
   worked on. A currency is a change of what is worked on. */
(function () {
  "use strict";

  const A_YEAR = 31536000; /* s */

  function keep(name, value, path) {
    document.cookie = `${name}=${value};path=${path};max-age=${value ? A_YEAR : 0};samesite=lax`;
    location.reload();
  }

  /* What the work says of its currency; nothing where it is the file's own. */
  function currencyNow() {
    const kept = JSON.parse(localStorage.getItem("outboard-costs") || "{}");
    return JSON.parse(((kept.work || {}).changes || {}).currency || '""');
  }

  function fill(select) {
    if (!select.options.length) {
      JSON.parse(select.dataset.choices).forEach(([value, name]) => select.append(new Option(name, value)));
    }
    select.value = "currency" in select.dataset ? currencyNow() : select.dataset.now || "";
  }

  document.addEventListener("click", (event) => {
    const at = (what) => event.target.closest && event.target.closest(what);
    const button = at("[data-language]");
    const opens = at("[data-shows]");
    if (button) {
      keep("language", button.dataset.language, button.dataset.path);
    } else if (opens) {
      document.querySelectorAll(`#${opens.dataset.shows} select[data-choices]`).forEach(fill);
    }
  });

  document.addEventListener("change", (event) => {
    const chosen = event.target;
    if (chosen.dataset && chosen.dataset.cookie) {
      keep(chosen.dataset.cookie, chosen.value, chosen.dataset.path);
    } else if (chosen.dataset && "currency" in chosen.dataset) {
      const does = chosen.value ? { does: "set", raw: chosen.value, kind: "text" } : { does: "back" };
      window.dash_clientside.set_props("edit", { data: Object.assign({ path: "currency", number: performance.now() }, does) });
    }
  });
})();
