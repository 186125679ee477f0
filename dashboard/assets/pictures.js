/* Pictures: their looks in light and dark, the moment at which finer ones are asked for, and their files. */
(function () {
  "use strict";

  const STANDS_STILL = 350; /* ms without a change */
  const SMALLEST = 640; /* px; a picture on a phone is saved wider than it is seen */
  const LINE = 24; /* px of a line of the title */
  let waiting = null;

  function wrapped(text, width) {
    const lines = [""];
    for (const word of text.split(" ")) {
      const last = lines.length - 1;
      if (lines[last] && (lines[last] + " " + word).length > width) {
        lines.push(word);
      } else {
        lines[last] += (lines[last] ? " " : "") + word;
      }
    }
    return lines;
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
        clearTimeout(waiting);
        waiting = setTimeout(() => window.dash_clientside.set_props("still", { data: work }), STANDS_STILL);
      },
      /* As on paper: light, with the finding as its title. */
      save: function (...given) {
        const [figure, finding, templates] = given.slice(-3);
        const cause = window.dash_clientside.callback_context.triggered[0];
        if (!cause || !cause.value) {
          return;
        }
        const [picture, kind] = cause.prop_id.split(".")[0].split("-saves-");
        const room = document.getElementById(picture + "-graph");
        const width = Math.max(SMALLEST, room ? room.clientWidth : 0);
        const lines = wrapped(finding, Math.floor(width / 10));
        const margin = Object.assign({}, templates.light.layout.margin, figure.layout.margin);
        const above = LINE * lines.length + 24;
        const layout = Object.assign({}, figure.layout, {
          template: templates.light,
          paper_bgcolor: "#ffffff",
          title: { text: lines.map(plain).join("<br>"), x: 0, xref: "paper", y: 1, yref: "container", yanchor: "top",
            font: { size: 18 }, pad: { t: 12 }, automargin: false },
          margin: Object.assign(margin, { t: margin.t + above }),
        });
        const name = finding.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 80);
        window.Plotly.downloadImage({ data: figure.data, layout: layout }, {
          format: kind, filename: name || picture, width: width, height: figure.layout.height + above, scale: 2,
        });
      },
    },
  });
})();
