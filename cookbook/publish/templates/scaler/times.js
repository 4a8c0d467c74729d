// Times of a piece, read from the page's table as the library reads it, and the clock.
(function (scaler) {
  "use strict";

  function between(knots, value, held) {
    if (knots.length === 1) { return [0, 0]; }
    let place = 0;
    for (let k = 0; k < knots.length - 1; k++) { if (knots[k] <= value) { place = k; } }
    const share = (value - knots[place]) / (knots[place + 1] - knots[place]);
    return [place, held ? Math.min(Math.max(share, 0), 1) : share];
  }
  // The two coordinates of a piece: how long it would be at the table's own section, and the scale of its section.
  function place(table, sizes) {
    const parts = sizes.map((size, k) => size / table.like[k]);
    if (table.growth === "wider") { return [Math.sqrt(parts[0] * parts[1]) / parts[2], parts[2]]; }
    const axes = table.growth === "bigger" ? [0, 1, 2] : [1, 2];
    const sum = (list) => axes.reduce((all, k) => all + Math.pow(list[k], -2), 0);
    const scale = Math.sqrt(sum(table.like) / sum(sizes));
    return [table.growth === "bigger" ? 1 : parts[0] / scale, scale];
  }
  function at(table, grid, where, pull, rates, held) {
    const length = between(table.lengths.map((one) => -Math.pow(one, -1.5)), -Math.pow(where[0], -1.5), true);
    const scale = between(table.scales.map(Math.log), Math.log(where[1]), held), up = between(table.pulls, pull, held);
    let total = 0, never = false;
    [[0, 1 - length[1]], [1, length[1]]].forEach(([step, share]) => {
      if (share === 0) { return; }
      let part = 0;
      [[0, 1 - scale[1]], [1, scale[1]]].forEach(([stride, weight]) => {
        if (weight === 0) { return; }
        const line = grid[length[0] + step][scale[0] + stride], low = line[up[0]];
        const high = up[1] ? line[up[0] + 1] : low;
        if (low === null || high === null) { never = true; return; }
        part += weight * (rates ? Math.log(low) + up[1] * Math.log(high / low) : low + up[1] * (high - low));
      });
      total += share * (rates ? Math.exp(-part) : part);
    });
    return never ? null : rates ? 1 / total : total;
  }
  function tableFor(bones) {
    const {tables} = scaler.data.times;
    return tables[bones === "off" ? "off" : ""] || tables[""] || tables.off;
  }

  // Logarithms of the quantiles over the middle's minutes: the median goes with the doubt of the size, what lies round
  // it by the square of that.
  function spread(table, where, cooker, pull, size) {
    const {doubt} = table, more = doubt.size ? size / doubt.size : 0, square = (value) => value * value;
    const [sure, sized] = [doubt.sure, doubt.sized].map((grids) =>
      grids[cooker].map((grid) => at(table, grid, where, pull, false, true) || 0));
    const middle = sure[1] + more * (sized[1] - sure[1]);
    const away = (k) => Math.sqrt(Math.max((1 - square(more)) * square(sure[k] - sure[1]) +
      square(more * (sized[k] - sized[1])), 0));
    return [middle - away(0), middle, middle + away(2)].map((one, k) => one + doubt.shift[k]);
  }

  scaler.timing = function (one, cooker, pull) {
    const table = tableFor(one.bones), where = place(table, one.sizes);
    const minutes = at(table, table.minutes[cooker], where, pull, true);
    const board = at(table, table.board_k[cooker], where, pull);
    if (minutes === null || board === null) { return null; }
    return {pull, minutes: spread(table, where, cooker, pull, one.spread).map((log) => minutes * Math.exp(log)),
      board: table.doubt.rise_k.map((shift) => pull + board + shift)};
  };
  scaler.pullFor = function (one, cooker, served) {
    const table = tableFor(one.bones), where = place(table, one.sizes), known = [];
    table.pulls.forEach((pull) => {
      const rise = at(table, table.board_k[cooker], where, pull);
      if (rise !== null) { known.push([pull, pull + rise + table.doubt.rise_k[1]]); }
    });
    if (!known.length) { return table.pulls[table.pulls.length - 1]; }
    let found = known[served < known[0][1] ? 0 : known.length - 1][0];
    for (let k = 0; k < known.length - 1; k++) {
      const [[low, lowBoard], [high, highBoard]] = [known[k], known[k + 1]];
      if (lowBoard <= served && served <= highBoard && highBoard > lowBoard) {
        found = low + (high - low) * (served - lowBoard) / (highBoard - lowBoard);
        break;
      }
    }
    return scaler.even(2 * found) / 2;
  };
  // How far a piece lies beyond the table's own: below 1 for a section thinner than all, above 1 for a thicker one.
  scaler.beyond = function (one) {
    const table = tableFor(one.bones), scale = place(table, one.sizes)[1];
    const held = Math.min(Math.max(scale, table.scales[0]), table.scales[table.scales.length - 1]);
    return scale / held;
  };
  // Minutes before the meal at which it goes on, so that nine of ten cooks are rested and carved in time.
  scaler.beforeEating = (time) => Math.min(time.minutes[2], 1e6) + scaler.data.times.rest + scaler.data.times.carve;
}(window.scaler));
