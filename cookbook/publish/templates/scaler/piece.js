// A piece from what is known of it: weighted least squares on the logarithms of its sizes, as the library does it.
(function (scaler) {
  "use strict";
  const ORDER = ["mass", "ribs", "length", "girth", "thick", "thin", "width", "thickness"];

  // The unknowns: growth, length, width, height, density, and where they matter rib pitch, shaft section and taper.
  function model(known, bones) {
    const cut = scaler.data.cut, state = cut.states[bones];
    const start = [0, state.sizes[0][0], state.sizes[1][0], state.sizes[2][0], state.density[0]];
    const more = (wanted, value) => wanted ? start.push(value) - 1 : -1;
    const pitch = more(cut.ribs && (known.ribs || known.frenched), cut.ribs && cut.ribs.pitch[0]);
    const shaft = more(cut.ribs && known.frenched, cut.ribs && cut.ribs.shaft[0]);
    const taper = more(known.thick && ["frustum", "elliptic cylinder"].includes(cut.shape), Math.log(cut.taper));
    const tapered = (p) => taper < 0 ? cut.taper : Math.exp(p[taper]);
    const body = (p, grams) => scaler.body(cut, Math.exp(p[1]), Math.exp(p[2]), Math.exp(p[3]), tapered(p), grams);
    const bodyGrams = (p) => Math.exp(p[4]) * body(p).volume;
    const shafts = (p) => shaft < 0 ? 0 :
      (known.ribs || Math.exp(p[1] - p[pitch])) * known.frenched * Math.exp(p[shaft]) * cut.bone_density;
    return {start, pitch, shaft, taper, tapered, body, bodyGrams, shafts};
  }

  function rowsOf(known, bones, m) {
    const {cut, sigma} = scaler.data, state = cut.states[bones], rows = [];
    const row = (value, spread, at, name) => rows.push({value, sigma: spread, at, name});
    state.sizes.forEach(([size, spread, grows], k) => row(size, spread, (p) => p[k + 1] - grows * p[0]));
    row(state.density[0], state.density[1], (p) => p[4]);
    if (m.pitch > 0) { row(cut.ribs.pitch[0], cut.ribs.pitch[1], (p) => p[m.pitch]); }
    if (m.shaft > 0) { row(cut.ribs.shaft[0], cut.ribs.shaft[1], (p) => p[m.shaft]); }
    if (m.taper > 0) { row(Math.log(cut.taper), sigma.taper, (p) => p[m.taper]); }
    [["length", 1], ["width", 2], ["thickness", 3]].forEach(([name, k]) => {
      if (known[name]) { row(Math.log(known[name]), sigma[name], (p) => p[k], name); }
    });
    const girth = (p) => Math.log(m.body(p).girth);
    if (known.mass) {
      row(Math.log(known.mass), sigma.weight, (p) => Math.log(m.bodyGrams(p) + m.shafts(p)), "mass");
    }
    if (known.girth) { row(Math.log(known.girth), sigma.girth, girth, "girth"); }
    if (known.ribs && m.pitch > 0) {
      row(Math.log(known.ribs), 0.2 / known.ribs, (p) => p[1] - p[m.pitch], "ribs");
    }
    ["thick", "thin"].forEach((name, end) => {
      if (!known.thick) { return; }
      const value = Math.log(end ? Math.min(known.thick, known.thin) : Math.max(known.thick, known.thin));
      if (m.taper < 0) { row(value, 2 * sigma.girth, girth, name); return; }
      row(value, sigma.girth, (p) => girth(p) + Math.log((end ? m.tapered(p) : 1) / ((1 + m.tapered(p)) / 2)), name);
    });
    return rows;
  }

  function slope(row, point) {
    return point.map((value, at) => {
      const here = point.slice();
      here[at] = value + 1e-5;
      const above = row.at(here);
      here[at] = value - 1e-5;
      return (above - row.at(here)) / 2e-5;
    });
  }
  function normal(rows, point) {
    const size = point.length, matrix = point.map(() => new Array(size).fill(0)), right = new Array(size).fill(0);
    rows.forEach((row) => {
      const slopes = slope(row, point), weight = Math.pow(row.sigma, -2), left = row.value - row.at(point);
      for (let k = 0; k < size; k++) {
        right[k] += weight * slopes[k] * left;
        for (let j = 0; j < size; j++) { matrix[k][j] += weight * slopes[k] * slopes[j]; }
      }
    });
    return [inverse(matrix), right];
  }
  function inverse(matrix) {
    const size = matrix.length, work = matrix.map((line, k) => line.concat(matrix.map((_, j) => j === k ? 1 : 0)));
    for (let k = 0; k < size; k++) {
      let best = k;
      for (let row = k + 1; row < size; row++) { if (Math.abs(work[row][k]) > Math.abs(work[best][k])) { best = row; } }
      [work[k], work[best]] = [work[best], work[k]];
      work[k] = work[k].map((value) => value / work[k][k]);
      for (let row = 0; row < size; row++) {
        const factor = work[row][k];
        if (row !== k && factor) { work[row] = work[row].map((value, j) => value - factor * work[k][j]); }
      }
    }
    return work.map((line) => line.slice(size));
  }
  const dot = (one, two) => one.reduce((sum, value, k) => sum + value * two[k], 0);

  // Gauss and Newton; a step of more than a factor of e is cut, and halved while it makes things worse.
  function solve(rows, start) {
    const cost = (p) => rows.reduce((sum, row) => sum + Math.pow((row.value - row.at(p)) / row.sigma, 2), 0);
    let point = start, now = cost(point);
    for (let round = 0; round < 40; round++) {
      const [back, right] = normal(rows, point), step = back.map((line) => dot(line, right));
      const longest = Math.max(...step.map(Math.abs));
      let share = longest > 1 ? 1 / longest : 1, there, next;
      for (;;) {
        there = point.map((value, at) => value + share * step[at]);
        next = cost(there);
        if (next <= now + 1e-9 || share * longest < 1e-9) { break; }
        share /= 2;
      }
      point = there; now = next;
      if (share * longest < 1e-10) { break; }
    }
    return point;
  }

  // The measurement that all the others fit worst: how many standard deviations, and what they would have said.
  function misfit(rows, point) {
    const [covariance] = normal(rows, point), found = [];
    rows.filter((row) => row.name).forEach((row) => {
      const slopes = slope(row, point), variance = dot(slopes, covariance.map((line) => dot(line, slopes)));
      const free = 1 - variance / (row.sigma * row.sigma);
      if (free < 1e-6) { return; }
      const residual = row.value - row.at(point), expected = row.value - residual / free;
      const spread = scaler.data.sigma.width80 * row.sigma / Math.sqrt(free);
      found.push({name: row.name, z: Math.abs(residual) / (row.sigma * Math.sqrt(free)),
        low: Math.exp(expected - spread), high: Math.exp(expected + spread)});
    });
    const most = Math.max(...found.map((one) => one.z));
    const top = found.filter((one) => one.z >= 0.98 * most);
    return top.sort((one, two) => ORDER.indexOf(one.name) - ORDER.indexOf(two.name))[0] || null;
  }

  // One sigma of the logarithm of the size that rules the time, the smallest; wider where the measures disagree.
  function sizeSpread(rows, point, sizes, worst) {
    const {sigma} = scaler.data, [covariance] = normal(rows, point), at = 1 + sizes.indexOf(Math.min(...sizes));
    const wider = worst && worst.z > sigma.noted ? worst.z / sigma.noted : 1;
    const half = Math.sinh(sigma.width80 * wider * Math.sqrt(covariance[at][at])) / sigma.normal80;
    const [surest, loosest] = scaler.data.times ? scaler.data.times.sizes : [half, half];
    return Math.min(Math.max(half, surest), loosest);
  }

  // `known`: mass in g, ribs, and in cm length, girth, thick, thin, width, thickness and frenched.
  scaler.piece = function (known, bones) {
    const {cut} = scaler.data, m = model(known, bones), rows = rowsOf(known, bones, m), point = solve(rows, m.start);
    const sizes = [1, 2, 3].map((k) => Math.exp(point[k])), grams = m.bodyGrams(point), body = m.body(point, grams);
    const worst = misfit(rows, point), spread = sizeSpread(rows, point, sizes, worst);
    const mass = known.mass || grams + m.shafts(point), parts = body.faces(), faces = {};
    Object.entries(cut.parts).forEach(([name, of]) => {
      faces[name] = of.reduce((sum, part) => sum + parts[part], 0);
    });
    return {mass, salted: mass - m.shafts(point), volume: cut.shape === "bird" ? grams / cut.bird_density : body.volume,
      sizes, faces, ribs: known.ribs || null, bones, count: known.count || 1, misfit: worst, spread};
  };
}(window.scaler));
