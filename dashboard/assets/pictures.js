/* Pictures: their looks in light and dark, the moment at which finer ones are asked for, and their files. */
(function () {
  "use strict";

  const STANDS_STILL = 350; /* ms without a change */
  const SMALLEST = 640; /* px; a picture on a phone is saved wider than it is seen */
  const LINE = 24; /* px of a line of the title */
  let waiting = null;

  /* Pieces on lines of so many characters; what makes a piece coloured does not count. */
  function wrapped(pieces, width, between) {
    const lines = [];
    let room = 0;
    for (const piece of pieces) {
      const long = piece.replace(/<[^>]*>/g, "").length + between.length;
      if (!lines.length || room < long) {
        lines.push(piece);
        room = width - long;
      } else {
        lines[lines.length - 1] += between + piece;
        room -= long;
      }
    }
    return lines;
  }

  /* What stands under a picture, each part with a square of its colour; a hatched one where it is a pattern. */
  function legend(picture) {
    return Array.from(document.querySelectorAll("#" + picture + "-legend > span")).map((entry) => {
      const paint = entry.querySelector(".part");
      const look = paint && getComputedStyle(paint);
      const isHatched = look && look.backgroundImage !== "none";
      const square = paint ? "<span style=\"color:" + (isHatched ? "#6b645b" : look.backgroundColor) + "\">"
        + (isHatched ? "\u25a8" : "\u25a0") + "</span> " : "";
      return square + plain(entry.textContent);
    });
  }

  function plain(text) {
    return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    pictures: {
      dress: function (scheme, figure, templates) {
        return { data: figure.data, layout: Object.assign({}, figure.layout, { template: templates[scheme] }) };
      },
      still: function (work) {
        window.dash_clientside.tables.askAgain();
        clearTimeout(waiting);
        waiting = setTimeout(() => window.dash_clientside.set_props("still", { data: work }), STANDS_STILL);
      },
      /* As on paper: light, with the finding as its title, what its parts are below. */
      save: function (...given) {
        const [figure, finding, templates] = given.slice(-3);
        const cause = window.dash_clientside.callback_context.triggered[0];
        if (!cause || !cause.value) {
          return;
        }
        const [picture, kind] = cause.prop_id.split(".")[0].split("-saves-");
        const drawn = document.querySelector("#" + picture + "-graph .js-plotly-plot");
        const size = drawn._fullLayout._size;
        const width = Math.max(SMALLEST, drawn.clientWidth);
        const title = wrapped(finding.split(" ").map(plain), Math.floor(width / 11), " ");
        const parts = wrapped(legend(picture), Math.floor(width / 9), "   ");
        const above = LINE * title.length + 20;
        const below = parts.length ? LINE * parts.length + 12 : 0;
        const height = figure.layout.height + above + below;
        const words = { xref: "paper", yref: "paper", x: 0, xanchor: "left", align: "left", showarrow: false };
        const layout = Object.assign({}, figure.layout, {
          template: templates.light,
          paper_bgcolor: "#ffffff",
          margin: Object.assign({}, templates.light.layout.margin, figure.layout.margin,
            { t: size.t + above, b: size.b + below }),
          annotations: (figure.layout.annotations || []).concat(
            Object.assign({}, words, { text: "<b>" + title.join("<br>") + "</b>", y: 1, yanchor: "bottom",
              yshift: size.t + 4, xshift: 8 - size.l, font: { size: 18 } }),
            parts.length ? [Object.assign({}, words, { text: parts.join("<br>"), y: 0, yanchor: "top",
              yshift: -size.b - 4, xshift: 8 - size.l, font: { size: 14 } })] : []),
        });
        const name = finding.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 80);
        window.Plotly.downloadImage({ data: figure.data, layout: layout }, {
          format: kind, filename: name || picture, width: width, height: height, scale: 2,
        });
      },
    },
  });
})();
