// A chart is drawn from the table behind it: nothing is computed here but where ink goes.
const inkOf = (place) =>
  getComputedStyle(document.documentElement).getPropertyValue(place).trim();
const NARROW = 560;
const WHOLE = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];
const charts = new Map();

function read(figure) {
  const heads = [...figure.querySelectorAll("thead th")];
  const rows = [...figure.querySelectorAll("tbody tr")];
  const number = (cell) => (cell.dataset.n === undefined ? null : Number(cell.dataset.n));
  const spots = [...figure.querySelectorAll(".spots li")].map((item) => Number(item.dataset.at));
  return {
    across: heads[0].textContent,
    up: heads[1].textContent.slice(heads[1].dataset.name.length + 2),
    names: heads.slice(1).map((head) => head.dataset.name),
    broken: heads.slice(1).map((head) => head.dataset.broken === "yes"),
    shown: rows.map((row) => [...row.children].map((cell) => cell.textContent)),
    columns: heads.map((_, at) => rows.map((row) => number(row.children[at]))),
    bars: figure.dataset.bars === "yes",
    spots,
  };
}

const letter = (size) => `${size * devicePixelRatio}px "DejaVu Sans", sans-serif`;
const ink = (place) => inkOf(`--ink${place % 6}`);
const dashOf = (table, place) => (table.broken[place] ? [7, 4] : []);

// Names at the ends of their curves, moved apart where they would touch.
function names(plot, table) {
  const ratio = devicePixelRatio;
  const ends = table.names.map((name, at) => {
    const column = table.columns[at + 1];
    let last = column.length - 1;
    while (last > 0 && column[last] === null) last -= 1;
    return { name, at, y: plot.valToPos(column[last] ?? 0, "y", true) };
  });
  ends.sort((one, other) => one.y - other.y);
  const apart = 14 * ratio;
  const { top, left, width, height } = plot.bbox;
  let floor = top + 4 * ratio;
  for (const end of ends) floor = (end.y = Math.max(end.y, floor)) + apart;
  let ceiling = top + height;
  for (const end of ends.toReversed()) ceiling = (end.y = Math.min(end.y, ceiling)) - apart;
  plot.ctx.save();
  plot.ctx.font = letter(12);
  plot.ctx.textBaseline = "middle";
  plot.ctx.textAlign = "left";
  for (const end of ends) {
    plot.ctx.fillStyle = ink(end.at);
    plot.ctx.fillText(end.name, left + width + 6 * ratio, end.y);
  }
  plot.ctx.restore();
}

// Places that are marked, with the number under which they are told below.
function spots(plot, table) {
  const ratio = devicePixelRatio;
  const { ctx } = plot;
  const { top, height } = plot.bbox;
  ctx.save();
  ctx.font = letter(11);
  ctx.fillStyle = ctx.strokeStyle = inkOf("--soft");
  ctx.textAlign = "center";
  ctx.textBaseline = "alphabetic";
  ctx.setLineDash([2 * ratio, 3 * ratio]);
  let before = -Infinity;
  let step = 0;
  table.spots.forEach((at, place) => {
    const x = plot.valToPos(at, "x", true);
    step = x - before < 14 * ratio ? step + 1 : 0;
    before = x;
    ctx.beginPath();
    ctx.moveTo(x, top);
    ctx.lineTo(x, top + height);
    ctx.stroke();
    ctx.fillText(String(place + 1), x, top - (5 + 12 * (step % 2)) * ratio);
  });
  ctx.restore();
}

function told(figure, table, at) {
  const line = figure.querySelector(".names");
  line.replaceChildren();
  const where = document.createElement("span");
  where.className = "where";
  where.textContent =
    at === null ? hint(figure) :
      `${table.across.replace(/ \(.*/, "")}: ${table.shown[at][0]} ${unit(table.across)}`;
  if (where.textContent) line.append(where);
  table.names.forEach((name, place) => {
    const part = document.createElement("span");
    part.className = `of-ink${place % 6}${table.broken[place] ? " broken" : ""}`;
    part.textContent = at === null ? name : `${name}: ${table.shown[at][place + 1]} ${unit(table.up)}`;
    line.append(part);
  });
}

const hint = (figure) =>
  figure.previousElementSibling?.classList.contains("chart")
    ? "" : "Touch the chart, or step through it with the arrow keys.";
const unit = (title) => (title.match(/\((.*)\)/) ?? ["", ""])[1];

function draw(figure) {
  const room = figure.querySelector(".plot");
  const wide = room.clientWidth;
  if (!wide || !globalThis.uPlot) return;
  const table = read(figure);
  charts.get(figure)?.plot.destroy();
  const pen = document.createElement("canvas").getContext("2d");
  pen.font = '12px "DejaVu Sans", sans-serif';
  const longest = Math.max(...table.names.map((name) => pen.measureText(name).width));
  const beside = wide >= NARROW && table.names.length > 1;
  const axis = (label, size) => ({
    label, size, font: '11px "DejaVu Sans", sans-serif', labelFont: '12px "DejaVu Sans", sans-serif',
    stroke: inkOf("--ink"), labelSize: 22,
    grid: { stroke: inkOf("--grid"), width: 1 }, ticks: { stroke: inkOf("--soft"), width: 1 },
  });
  const series = table.names.map((name, at) => ({
    label: name, stroke: ink(at), width: table.bars ? 1 : 2, dash: dashOf(table, at),
    fill: table.bars ? ink(at) : undefined, points: { show: false }, spanGaps: false,
    paths: table.bars ? uPlot.paths.bars({ size: [0.6, 40] }) : undefined,
  }));
  const values = table.columns.slice(1).flat().filter((n) => n !== null);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  // an axis begins at nought unless values are far above it
  const floor = low > 0.6 * high ? low - 0.15 * (high - low || high) : Math.min(0, low * 1.05);
  const whole = table.columns[0].every(Number.isInteger); // years and orders have no halves
  const plot = new uPlot({
    width: wide, height: Math.round(Math.min(320, Math.max(220, wide * 0.5))),
    padding: [table.spots.length ? 30 : 12, beside ? longest + 14 : 20, 0, 0],
    scales: {
      x: { time: false },
      y: { range: [floor, high > 0 ? high * 1.06 : high + 1] },
    },
    axes: [{ ...axis(table.across, 34), ...(whole ? { incrs: WHOLE } : {}) }, axis(table.up, 52)],
    series: [{}, ...series],
    legend: { show: false },
    cursor: { drag: { x: false, y: false }, points: { size: 7 } },
    hooks: {
      draw: [(u) => { spots(u, table); if (beside) names(u, table); }],
      setCursor: [(u) => told(figure, table, u.cursor.idx ?? null)],
    },
  }, table.columns, room);
  charts.set(figure, { plot, wide, table });
  room.tabIndex = 0;
  room.setAttribute("role", "img");
  room.setAttribute("aria-label",
    `${figure.querySelector("figcaption").textContent}: drawn from the table below`);
  told(figure, table, null);
}

function step(event) {
  const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  const drawn = charts.get(event.target.closest?.(".chart"));
  if (!way || !drawn) return;
  event.preventDefault();
  const { plot, table } = drawn;
  const last = table.columns[0].length - 1;
  const at = Math.min(last, Math.max(0, (plot.cursor.idx ?? (way > 0 ? -1 : last + 1)) + way));
  plot.setCursor({ left: plot.valToPos(table.columns[0][at], "x"), top: 20 });
}

const all = (inside) => inside.querySelectorAll?.(".chart").forEach(draw);
document.addEventListener("keydown", step);
document.addEventListener("htmx:afterSwap", (event) => all(event.target));
document.addEventListener("toggle", (event) => all(event.target), true);
addEventListener("resize", () => {
  for (const [figure, { wide }] of charts) {
    if (figure.isConnected && figure.querySelector(".plot").clientWidth !== wide) draw(figure);
  }
});
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => all(document));
document.fonts.ready.then(() => all(document));
