// What a viewer typed: numbers as people write them, pounds with ounces, inches, and words for what can't be.
(function (scaler) {
  "use strict";
  const MARKS = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"};
  const INCH = 2.54, NBSP = "\u00a0";

  // `3,9`, `3.9`, `8 1/2`, `8½`: a number above 0, null where nothing stands, NaN for what is none.
  scaler.number = function (words) {
    const said = String(words).replace(/[½⅓⅔¼¾⅛⅜⅝⅞]/g, (sign) => " " + MARKS[sign]).trim().replace(/\s+/g, " ");
    if (!said) { return null; }
    const parts = /^(?:(\d+(?:[.,]\d+)?)|(?:(\d+) )?(\d+)\/(\d+))$/.exec(said);
    if (!parts) { return NaN; }
    const value = parts[1] ? Number(parts[1].replace(",", ".")) : Number(parts[2] || 0) + parts[3] / parts[4];
    return value > 0 && value < Infinity ? value : NaN;
  };

  // From `get`, which gives the text of a field, to what `scaler.piece` takes, or `{fault: {field, words}}`.
  scaler.known = function (get) {
    const by = get("by"), known = {by}, {cut, measures} = scaler.data;
    const fault = (field, words) => ({fault: {field, words}});
    const unread = (field) => fault(field, "“" + get(field).trim() + "” is no number to scale by: write it like 3.9, 3,9 or 8 1/2.");
    const pound = get("weight-unit") === "lb", inch = get("length-unit") === "in" ? INCH : 1;
    const whole = scaler.number(get("weight")), rest = pound ? scaler.number(get("ounces")) : null;
    if (Number.isNaN(whole)) { return unread("weight"); }
    if (Number.isNaN(rest) && !/^0+$/.test(get("ounces").trim())) { return unread("ounces"); }
    known.mass = pound ? ((whole || 0) + (rest || 0) / 16) * measures.pound || null : whole && whole * 1000;
    if ((by === "weight" || known.mass) && !(known.mass >= 100 && known.mass <= 60000)) {
      return fault("weight", pound ? "What does it weigh? A quarter of a pound to 132 lb can be scaled."
        : "What does it weigh? 0.1 to 60 kg can be scaled.");
    }
    known.count = get("count").trim() ? scaler.number(get("count")) : 1;
    if (!(known.count >= 1 && known.count <= 20 && known.count % 1 === 0)) {
      return fault("count", "How many pieces alike? 1 to 20, please.");
    }
    if (by === "ribs") {
      known.ribs = scaler.number(get("ribs"));
      if (!(known.ribs >= 1 && known.ribs <= cut.ribs.most && known.ribs % 1 === 0)) {
        return fault("ribs", "How many ribs? 1 to " + cut.ribs.most + " can be.");
      }
    }
    const fields = by === "tape" ? ["length", "girth", "width", "thickness", "thick", "thin"] : [];
    if (cut.frenched && get("bones") !== "off") { fields.push("frenched"); }
    for (const field of fields) {
      const value = scaler.number(get(field));
      if (Number.isNaN(value)) { return unread(field); }
      if (value !== null) { known[field] = value * inch; }
      const [least, most] = field === "frenched" ? [0, 40] : [1, 150];
      if (value !== null && !(known[field] >= least && known[field] <= most)) {
        return fault(field, scaler.size(field, known[field], get("length-unit")) + " can't be: " +
          scaler.size("", Math.max(least, INCH / 4), get("length-unit")) + " to " +
          scaler.size("", most, get("length-unit")) + ", please.");
      }
    }
    if (!known.thick !== !known.thin) {
      return fault(known.thick ? "thin" : "thick", "The tape near both ends, please, or near neither.");
    }
    if (by === "tape" && !known.mass && !cut.decides.some((field) => known[field])) {
      return fault("length", "How long is it? The tape along the roast, please; each more measure makes it surer.");
    }
    return known;
  };

  // A measurement in the viewer's own unit.
  scaler.size = function (field, value, unit) {
    const shown = unit === "in" ? value / INCH : value;
    return scaler.plain(Number(shown.toPrecision(3))) + NBSP + (unit === "in" ? "in" : "cm") + (field ? " of " + NAMES[field] : "");
  };
  const NAMES = {length: "length", girth: "tape round the middle", thick: "tape at the thick end", thin: "tape at the thin end",
    width: "width", thickness: "thickness", frenched: "bare bone"};
  function measure(name, value, get) {
    if (name === "ribs") { return scaler.plain(Math.round(value * 10) / 10) + NBSP + "ribs"; }
    if (name !== "mass") { return scaler.size("", value, get("length-unit")); }
    const shown = get("weight-unit") === "lb" ? value / scaler.data.measures.pound : value / 1000;
    return scaler.plain(Number(shown.toPrecision(3))) + NBSP + get("weight-unit");
  }

  // What is to be said of a piece whose measurements don't go together, or that can't be; "" where all is well.
  scaler.doubt = function (one, known, get) {
    const {sigma, cut} = scaler.data, worst = one.misfit;
    if (worst && worst.z > sigma.noted) {
      const asked = {mass: "weight", ribs: "number of ribs"}[worst.name] || NAMES[worst.name];
      return measure(worst.name, known[worst.name], get) + ": is the " + asked + " right? " +
        measure(worst.name, worst.low, get) + " to " + measure(worst.name, worst.high, get) + " would be usual for " +
        cut.name + " by what else you say.";
    }
    if (one.salted < one.mass / 4) { return "So much bare bone can't be on a piece of this size: measure one shaft again."; }
    return one.mass >= 100 && one.mass <= 60000 ? "" :
      "That would weigh " + measure("mass", one.mass, get) + ": measure again.";
  };
  // Whether the doubt is too great to go on.
  scaler.refused = (one) => Boolean(one.misfit && one.misfit.z > scaler.data.sigma.refused) ||
    one.salted < one.mass / 4 || !(one.mass >= 100 && one.mass <= 60000);
}(window.scaler));
