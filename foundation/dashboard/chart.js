// One plotly chart: draws what the kernel sends and tells the kernel what was clicked or dragged.

// The runtime is the page's, not the chart's: each chart has its own copy of this module, all wait for one promise.
function runtime(model) {
  window.foundationPlotly ??= fromServer(model);
  window.foundationPlotly = window.foundationPlotly.then((plotly) => plotly ?? fromKernel(model));
  return window.foundationPlotly;
}

function addScript(source) {
  return new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = source;
    script.onload = () => done(window.Plotly);
    script.onerror = () => failed(new Error("the charts' script did not load"));
    document.head.append(script);
  });
}

function fromServer(model) {
  const base = document.body.dataset.baseUrl;
  // Without our template there is no such address, and no route either.
  return base ? addScript(base + model.get("_runtime")).catch(() => null) : Promise.resolve(null);
}

function fromKernel(model) {
  return new Promise((done, failed) => {
    const receive = (message, buffers) => {
      if (message.kind !== "runtime") return;
      model.off("msg:custom", receive);
      const source = URL.createObjectURL(new Blob([buffers[0]], { type: "text/javascript" }));
      addScript(source).then(done, failed);
    };
    model.on("msg:custom", receive);
    model.send({ kind: "runtime" });
  });
}

const CONFIG = {
  displaylogo: false,
  showSendToCloud: false, // nothing leaves this machine
  plotlyServerURL: "",
  modeBarButtonsToRemove: ["select2d", "lasso2d", "autoScale2d"],
  doubleClick: "reset",
  edits: { shapePosition: true }, // of editable shapes only, see holdStill
};
const NARROW = 700; // [px] below it a finger on the chart must scroll the page

function render({ model, el }) {
  const plot = document.createElement("div");
  el.classList.add("foundation-chart");
  el.setAttribute("role", "img");
  el.append(plot);
  let shownWidth = 0;
  let wanted = true; // a figure has arrived, or the width has changed, since the last drawing began
  let busy = false;
  let drawings = 0;

  function describe() {
    el.setAttribute("aria-label", model.get("summary"));
  }

  function figure() {
    const { data = [], layout = {} } = structuredClone(model.get("_figure"));
    layout.width = shownWidth;
    layout.height ??= 360;
    // Zoom stays (uirevision); what was dragged returns to where the kernel says it is.
    layout.editrevision = drawings;
    if (shownWidth < NARROW) layout.dragmode = false;
    return { data, layout };
  }

  async function draw() {
    const width = el.clientWidth;
    const empty = !model.get("_figure").data; // nothing to show yet: no empty axes either
    if (busy || !wanted || !width || empty) return; // hidden: drawn when its size comes back
    busy = true;
    try {
      const plotly = await runtime(model);
      while (wanted) {
        wanted = false;
        shownWidth = el.clientWidth || width;
        tellWidth();
        const { data, layout } = figure();
        plot.style.minHeight = `${layout.height}px`;
        await plotly.react(plot, data, layout, CONFIG);
        if (drawings++ === 0) listen();
        el.dataset.drawn = drawings;
      }
    } catch (error) {
      plot.className = "plotly-failed";
      plot.textContent = "This chart could not be drawn; load the page again.";
      model.send({ kind: "failed", error: String(error?.stack ?? error) });
    } finally {
      busy = false;
    }
  }

  // Texts are placed for a width, so the kernel is told the one there is.
  function tellWidth() {
    if (Math.abs(model.get("width") - shownWidth) < 8) return;
    model.set("width", shownWidth);
    model.save_changes();
  }

  function redraw() {
    wanted = true;
    draw();
  }

  // Plotly lets all shapes be dragged or none.
  function holdStill() {
    for (const element of plot.querySelectorAll(".shapelayer [data-index]")) {
      if (!plot.layout.shapes[element.dataset.index]?.editable) element.style.pointerEvents = "none";
    }
  }

  function listen() {
    holdStill();
    plot.on("plotly_afterplot", holdStill);
    plot.on("plotly_click", ({ points: [point] }) => {
      const { curveNumber: curve, x, y, customdata = null, data } = point;
      model.send({ kind: "click", curve, name: data.name ?? "", x, y, customdata });
    });
    plot.on("plotly_relayout", (change) => {
      const index = Object.keys(change).join(" ").match(/shapes\[(\d+)\]\.[xy][01]/)?.[1];
      if (index === undefined) return;
      const { name = "", x0, y0, x1, y1 } = plot.layout.shapes[index];
      model.send({ kind: "drag", index: Number(index), name, x0, y0, x1, y1 });
    });
  }

  const receive = (message) => message.kind === "redraw" && redraw();
  const size = new ResizeObserver(() => {
    if (el.clientWidth !== shownWidth) wanted = true;
    draw();
  });
  describe();
  model.on("change:summary", describe);
  model.on("change:_figure", redraw);
  model.on("msg:custom", receive);
  size.observe(el);
  return () => {
    size.disconnect();
    model.off("change:summary", describe);
    model.off("change:_figure", redraw);
    model.off("msg:custom", receive);
    window.Plotly?.purge(plot);
  };
}

export default { render };
