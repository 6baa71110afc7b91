// The row over the client's screen: full screen, print; tells the kernel once it is seen, and how wide it is.
function render({ model, el }) {
  el.classList.add("client-tools");
  const button = (label, act) => {
    const made = document.createElement("button");
    made.textContent = label;
    made.addEventListener("click", act);
    el.append(made);
    return made;
  };
  const full = button("Full screen", () => {
    const done = document.fullscreenElement
      ? document.exitFullscreen()
      : document.documentElement.requestFullscreen();
    done.catch(() => (full.textContent = "Press F11 for the full screen"));
  });
  full.hidden = !document.fullscreenEnabled; // phones that do not know it
  const turned = () => (full.textContent = document.fullscreenElement ? "Leave full screen" : "Full screen");
  document.addEventListener("fullscreenchange", turned);
  button("Print", () => window.print());

  // Printing narrows the page for a moment; what is drawn for the screen stays.
  const size = new ResizeObserver(() => {
    const width = el.clientWidth;
    if (!width || matchMedia("print").matches || Math.abs(model.get("width") - width) < 8) return;
    model.set("width", width);
    model.save_changes();
  });
  size.observe(el);
  model.send({ kind: "shown" });
  return () => {
    size.disconnect();
    document.removeEventListener("fullscreenchange", turned);
  };
}

export default { render };
