"use strict";
(() => {
  const list = document.getElementById("list");
  const body = list.tBodies[0];
  const rows = [...body.rows];
  const heads = [...list.tHead.rows[0].cells];
  const told = document.getElementById("told");
  const tools = document.getElementById("tools");
  const sorter = document.getElementById("sort");
  const filters = ["status", "month", "currency"].map((id) => document.getElementById(id)).filter(Boolean);
  const words = document.getElementById("words");
  const compare = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" }).compare;

  const value = (row, at, kind) => {
    const cell = row.cells[at];
    if (kind === "text") return cell.textContent.trim();
    return cell.dataset.value === "" || cell.dataset.value === undefined ? null : Number(cell.dataset.value);
  };

  // blank cells stand last, whichever way the column is sorted; equal ones keep their order
  const sortBy = (at, way) => {
    const kind = heads[at].dataset.kind;
    const keyed = rows.map((row) => [value(row, at, kind), row]);
    keyed.sort(([one], [other]) => {
      if (one === null || other === null) return (one === null) - (other === null);
      const order = kind === "text" ? compare(one, other) : one - other;
      return way === "ascending" ? order : -order;
    });
    body.append(...keyed.map(([, row]) => row));
    heads.forEach((head, place) => (place === at ? head.setAttribute("aria-sort", way) : head.removeAttribute("aria-sort")));
    sorter.value = `${at} ${way}`;
  };

  const amount = (minor, decimals) => {
    const digits = String(minor < 0n ? -minor : minor).padStart(decimals + 1, "0");
    const whole = digits.slice(0, digits.length - decimals).replace(/\B(?=(\d{3})+$)/g, ",");
    return (minor < 0n ? "−" : "") + whole + (decimals ? "." + digits.slice(-decimals) : "");
  };

  const tell = (seen) => {
    const sums = new Map();
    for (const row of seen) {
      const { currency, minor, decimals } = row.dataset;
      const before = sums.get(currency) || [0n, Number(decimals)];
      sums.set(currency, [before[0] + BigInt(minor), before[1]]);
    }
    const said = [...sums].sort().map(([currency, [minor, decimals]]) => `${amount(minor, decimals)} ${currency}`).join("; ");
    const jobs = rows.length === 1 ? "job" : "jobs";
    told.textContent = `${seen.length} of ${rows.length} ${jobs} shown${said ? `, together ${said} with tax` : ""}.`;
  };

  const filter = () => {
    const wanted = words.value.toLocaleLowerCase().split(/\s+/).filter(Boolean);
    const seen = rows.filter((row) => {
      const text = row.textContent.toLocaleLowerCase();
      const fits = filters.every((one) => !one.value || row.dataset[one.id] === one.value) && wanted.every((word) => text.includes(word));
      row.hidden = !fits;
      return fits;
    });
    tell(seen);
  };

  heads.forEach((head, at) => {
    if (!head.dataset.kind) return;
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    head.textContent = "";
    head.append(button);
    const first = head.dataset.kind === "number" ? "descending" : "ascending";
    const other = first === "ascending" ? "descending" : "ascending";
    button.addEventListener("click", () => sortBy(at, head.getAttribute("aria-sort") === first ? other : first));
    for (const way of ["ascending", "descending"]) sorter.append(new Option(`${button.textContent}, ${way}`, `${at} ${way}`));
  });
  sorter.value = "2 descending";
  sorter.addEventListener("change", () => {
    const [at, way] = sorter.value.split(" ");
    sortBy(Number(at), way);
  });
  words.addEventListener("input", filter);
  filters.forEach((one) => one.addEventListener("change", filter));
  tools.addEventListener("submit", (event) => event.preventDefault());
  tools.addEventListener("reset", () => setTimeout(() => { filter(); sortBy(2, "descending"); }));
  tools.hidden = false;
  filter();
})();
