// An ingredient for one piece or several alike: the factor of its rule, and its amount in every measure.
(function (scaler) {
  "use strict";
  const {even, plain, balance, fraction, grams, spread, pounds, spoons} = scaler, NBSP = "\u00a0";

  // What goes into another recipe grows as its line there does, whatever its own lines follow.
  function inside(part, one) {
    const outer = scaler.data.batches[part.batch], line = outer.lines[part.line];
    if (part.whole) { return 1; }
    return part.grams ? scaler.amounts(outer, line, one).grams / part.grams
      : factor(outer, one, line.follows) / part.factor;
  }
  function factor(batch, one, follows) {
    if (batch.inside) { return inside(batch.inside, one); }
    const from = batch.from, faces = one.coated || batch.faces[one.bones] || [];
    if (follows === "surface") {
      return one.count * faces.reduce((sum, name) => sum + one.faces[name], 0) / from.coated;
    }
    if (follows === "volume") { return one.count * one.volume / from.volume; }
    if (follows === "count" && from.ribs && one.ribs) { return one.count * one.ribs / from.ribs; }
    return follows === "weight" || follows === "count" ? one.count * one.mass / from.mass : 1;
  }

  const unique = (list) => list.filter((one, k) => one && list.indexOf(one) === k);
  function ordered(text, us, metric) {
    const {units} = scaler.data;
    return unique([units === "us" ? us : units === "metric" ? metric : "", text, us, metric]);
  }
  const hundredths = (value) => plain(even(value * 100) / 100);

  function share(line, one) {
    const meat = one.count * (line.boneless ? one.salted * (1 - scaler.data.cut.bone[one.bones]) : one.salted);
    const mid = (line.ends[0] + line.ends[1]) / 200 * meat;
    const ml = line.per_ml ? [mid / line.per_ml, mid / line.per_ml] : null;
    return {said: unique([grams(mid), spoons(ml, line) || pounds([mid, mid])]), grams: mid};
  }
  function weighed(line, ends, weight) {
    const base = ends.map((end) => end * (line.unit === "kg" ? 1000 : 1));
    const text = line.unit === "kg" ? spread(ends, hundredths, "kg") : spread(base, (value) => plain(balance(value)), "g");
    const ml = line.per_ml ? base.map((end) => end / line.per_ml) : null;
    return {said: ordered(text, spoons(ml, line) || pounds(base), text), grams: weight || (base[0] + base[1]) / 2};
  }
  function counted(line, many, weight) {
    const least = line.whole ? 1 : 0.5;
    const shown = (many >= 10 || line.whole ? even(many) : even(many * 2) / 2) || least;
    const text = Math.abs(many - line.ends[0]) < 1e-6 * many ? line.written
      : (fraction(shown) + NBSP + line.words[shown <= 1 ? 0 : 1]).trim();
    return {said: ordered(text, text, weight ? grams(weight, line.about) : text), grams: weight || 0};
  }
  function poured(line, ends, weight) {
    const ml = ends.map((end) => end * line.ml / ((line.ends[0] + line.ends[1]) / 2)), us = spoons(ml, line);
    const text = line.unit === "ml" ? spread(ends, (value) => plain(balance(value)), "ml")
      : line.unit === "l" ? spread(ends, hundredths, "l")
        : us && (ends[0] === ends[1] || !us.includes("+")) ? us : scaler.counted(ends, line.unit);
    const [low, high] = ends.map((end) => weight * 2 * end / (ends[0] + ends[1]));
    const metric = low < high ? grams(low).split(NBSP)[0] + "–" + grams(high)
      : weight ? grams(weight, line.about) : spread(ml, (value, most) => plain(balance(value, most)), "ml");
    return {said: ordered(text || metric, us || text, metric), grams: weight || 0};
  }

  // The same amount in every measure, the handiest first, as the card prints it; grams for what adds up.
  scaler.amounts = function (batch, line, one) {
    if (line.kind === "free") { return {said: [line.text], grams: 0}; }
    if (line.kind === "percent") { return share(line, one); }
    if (line.kind === "whole") {
      const weight = line.surface * factor(batch, one, "surface") + line.weight * factor(batch, one, "weight");
      return {said: [grams(weight)], grams: weight};
    }
    const by = factor(batch, one, line.follows), ends = line.ends.map((end) => end * by);
    const weight = line.grams === null ? null : line.grams * by;
    if (line.kind === "mass") { return weighed(line, ends, weight); }
    if (line.kind === "count") { return counted(line, ends[0], weight); }
    if (line.kind === "volume") { return poured(line, ends, weight); }
    return {said: weight ? [grams(weight, line.about)] : ["× " + plain(balance(by))], grams: weight || 0};
  };
}(window.scaler));
