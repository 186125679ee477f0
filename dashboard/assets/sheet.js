/* A sheet is asked for with the work on screen, then saved or opened for printing; nothing else is kept. */
(function () {
  "use strict";

  const A_MINUTE = 60000; /* ms that a file made here can still be fetched by the window that shows it */

  function save(address, kind) {
    const link = Object.assign(document.createElement("a"), { href: address, download: `sheet.${kind}` });
    document.body.append(link);
    link.click();
    link.remove();
  }

  async function make(way, asked) {
    const opened = way === "print" ? window.open("", "_blank") : null; /* at once: later it would be blocked */
    const answer = await fetch(document.getElementById("paper").dataset.path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(asked),
    });
    if (!answer.ok) {
      if (opened) {
        opened.close();
      }
      const isTold = (answer.headers.get("Content-Type") || "").includes("json");
      return isTold ? (await answer.json()).told : `${answer.status}`;
    }
    const address = URL.createObjectURL(await answer.blob());
    setTimeout(() => URL.revokeObjectURL(address), A_MINUTE);
    if (opened) {
      opened.addEventListener("load", () => opened.print());
      opened.location.replace(address);
    } else {
      save(address, asked.kind);
    }
    return "";
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    sheet: {
      make: function (print, html, pdf, xlsx, work, shop, customer, note, paper, language) {
        const way = window.dash_clientside.callback_context.triggered_id.replace("paper-as-", "");
        const kind = way === "print" ? "html" : way;
        return make(way, { work, kind, shop: shop || "", customer: customer || "", note: note || "", paper, language });
      },
    },
  });
})();
