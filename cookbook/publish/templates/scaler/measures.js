// A number as a kitchen reads it: grams on a balance, pounds and ounces, fractions, and level spoons and cups.
(function (scaler) {
  "use strict";
  const NBSP = "\u00a0";
  const SIGNS = {"1/2": "½", "1/3": "⅓", "2/3": "⅔", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝",
    "7/8": "⅞", "1/6": "⅙", "5/6": "⅚"};

  // Halves go to the even neighbour.
  function even(value) {
    const low = Math.floor(value);
    return Math.abs(value - low - 0.5) < 1e-9 ? low + (low % 2) : Math.round(value);
  }
  const plain = (value) => String(Math.round(value * 1e6) / 1e6);
  function balance(value, largest) {
    const size = largest === undefined ? value : largest, step = size >= 20 ? 1 : size >= 5 ? 0.5 : 0.1;
    return even(value / step) * step;
  }
  function fraction(value) {
    const whole = Math.floor(value + 1e-9), key = Object.keys(SIGNS).find((one) => {
      const [over, under] = one.split("/");
      return Math.abs(over / under - (value - whole)) < 1e-6;
    });
    return key ? (whole || "") + SIGNS[key] : plain(value);
  }
  const grams = (value, about) => (about ? "about " : "") + plain(balance(value)) + NBSP + "g";
  function spread(ends, show, unit) {
    const low = show(ends[0], ends[1]), high = show(ends[1], ends[1]);
    return (low === high ? low : low + "–" + high) + NBSP + unit;
  }
  function ounces(value) {
    const {pound} = scaler.data.measures, parts = value < pound ? 8 : value < 5 * pound ? 2 : 1;
    return Math.max(1, even(value / pound * 16 * parts)) / parts;
  }
  function pounds(ends) {
    if (ends[0] < scaler.data.measures.pound / 64) { return ""; }
    if (ends[0] !== ends[1]) { return fraction(ounces(ends[0])) + "–" + fraction(ounces(ends[1])) + NBSP + "oz"; }
    const total = ounces(ends[0]), whole = Math.floor(total / 16), rest = total - 16 * whole;
    const said = whole ? [whole + NBSP + "lb"] : [];
    if (rest || !whole) { said.push(fraction(rest) + NBSP + "oz"); }
    return said.join(" ");
  }

  // The fewest scoops that come close enough: then the fewest kinds, the smallest error, the larger measures.
  function scoops(ml, tolerance) {
    const sizes = scaler.data.measures.scoops.map((one) => one.ml), last = sizes.length - 1;
    const slack = ml * tolerance + 1e-9;
    let found;
    function go(at, left, count, kinds, used) {
      if (count === 0) {
        if (Math.abs(left) <= slack) {
          const rest = new Array(sizes.length - used.length).fill(0);
          found.push([kinds, Math.round(Math.abs(left) * 1e7), ...used.concat(rest).map((n) => -n)]);
        }
        return;
      }
      if (at > last || kinds === 3 || left > count * sizes[at] + slack || left < count * sizes[last] - slack) { return; }
      for (let n = Math.min(count, Math.floor((left + slack) / sizes[at])); n >= 0; n--) {
        go(at + 1, left - n * sizes[at], count - n, kinds + (n > 0 ? 1 : 0), used.concat(n));
      }
    }
    for (let many = 1; many <= 8; many++) {
      found = [];
      go(0, ml, many, 0, []);
      if (found.length) {
        found.sort((one, two) => {
          const k = one.findIndex((value, at) => value !== two[at]);
          return k < 0 ? 0 : one[k] - two[k];
        });
        return found[0].slice(2).map((n) => -n);
      }
    }
    return null;
  }
  function filled(counts) {
    const units = new Map();
    counts.forEach((n, k) => {
      const one = scaler.data.measures.scoops[k];
      units.set(one.unit, (units.get(one.unit) || []).concat(new Array(n).fill(one.part)));
    });
    return [...units].filter(([, parts]) => parts.length).map(([name, parts]) => {
      const total = parts.reduce((sum, part) => sum + part, 0);
      return number(parts, total) + NBSP + name + (total > 1.000001 && /cup$/.test(name) ? "s" : "");
    }).join(" + ");
  }
  function denominator(value) {
    for (let d = 1; d <= 96; d++) { if (Math.abs(value * d - Math.round(value * d)) < 1e-6) { return d; } }
    return 1000;
  }
  // Several scoops of one unit as one number, where a cook would still see which scoops are meant.
  function number(parts, total) {
    const kinds = parts.filter((part, k) => part !== 1 && parts.indexOf(part) === k);
    const count = (part) => parts.filter((one) => one === part).length;
    const read = (part) => denominator(part * count(part)) === denominator(part);
    if (kinds.every(read) && ([1, 2, 3, 4, 8].includes(denominator(total)) || denominator(parts[0]) > 8)) {
      return fraction(total);
    }
    const shown = count(1) ? [String(count(1))] : [];
    kinds.forEach((part) => {
      if (read(part)) { shown.push(fraction(part * count(part))); } else {
        shown.push(...new Array(count(part)).fill(fraction(part)));
      }
    });
    return shown.join(" + ");
  }
  function spoon(ml, line) {
    const m = scaler.data.measures, smallest = m.scoops[m.scoops.length - 1].ml;
    if (ml <= 0) { return ""; }
    let counts = scoops(ml, line.salt ? m.salt_tolerance : m.tolerance);
    if (counts) { return filled(counts); }
    if (line.salt) { return ""; }
    const many = even(ml / smallest);
    counts = many ? scoops(many * smallest, 0) : null;
    if (counts) { return filled(counts); }
    return ml >= m.pinch[0] && ml <= m.pinch[1] ? "1" + NBSP + "pinch" : "";
  }
  function large(ml, line) {
    const m = scaler.data.measures;
    if (!line.pours || !m.quart) { return ""; }
    const quarters = even(ml / m.quart * 4), error = quarters * m.quart / 4 / ml - 1;
    if (Math.abs(error) > (line.salt ? m.salt_tolerance : m.tolerance)) { return ""; }
    return fraction(quarters / 4) + NBSP + (quarters > 4 ? "quarts" : "quart");
  }
  // Level spoons and cups for a volume or a range of it; "" where none fit, or where it must be weighed.
  function spoons(ends, line) {
    if (line.cure || !ends || ends[0] <= 0) { return ""; }
    const told = ends.map((ml) => ends[1] > scaler.data.measures.most_ml ? large(ml, line) : spoon(ml, line));
    if (told.some((one) => !one)) { return ""; }
    return told[0] === told[1] ? told[0] : told[0] + " to " + told[1];
  }

  Object.assign(scaler, {even, plain, balance, fraction, grams, spread, pounds, spoons});
}(window.scaler));
