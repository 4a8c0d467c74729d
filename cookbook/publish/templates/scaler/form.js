// The form: reads it, and shows the day, the amounts and what to buy. Nothing is asked of anybody but the viewer.
(function (scaler) {
  "use strict";
  const {data, plain, even, grams, pounds} = scaler, {cut} = data, NBSP = "\u00a0";
  const DAYS = ["Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"];
  const form = document.getElementById("scaler-form"), answer = document.getElementById("scaler-answer");
  const dayList = document.getElementById("scaler-day"), lists = document.getElementById("scaler-lists");
  const shop = document.getElementById("scaler-shop");
  const field = (name) => form.elements.namedItem(name);  // one of them is called `length`
  const value = (name) => field(name) ? field(name).value : "";

  function element(tag, words, parent, kind) {
    const made = document.createElement(tag);
    made.textContent = words;
    if (kind) { made.className = kind; }
    parent.appendChild(made);
    return made;
  }
  function row(list, said, words) {
    const made = element("li", "", list), figure = element("span", "", made, "figure");
    element("b", said[0], figure);
    said.slice(1).forEach((other) => {
      figure.appendChild(document.createTextNode(" "));
      element("span", other, figure, "other");
    });
    element("span", words, made, "words").dir = "auto";
  }

  const degrees = (celsius) => [even(celsius) + NBSP + "°C", even(celsius * 1.8 + 32) + NBSP + "°F"];
  const bothScales = (celsius) => degrees(celsius)[0] + " (" + degrees(celsius)[1] + ")";
  function hours(minutes, towards) {
    const steps = minutes / 5, whole = 5 * (towards < 0 ? Math.floor(steps) : Math.ceil(steps));
    const hour = Math.floor(whole / 60), rest = whole % 60;
    return hour ? hour + NBSP + "h" + (rest ? NBSP + rest + NBSP + "min" : "") : rest + NBSP + "min";
  }
  const two = (number) => (number < 10 ? "0" : "") + number;

  // The clock so many minutes before the meal, down to five; with a date by the calendar, summer time and all.
  function clockOf(time, day) {
    const [, hour, minute] = /^(\d{1,2}):(\d{2})/.exec(time).map(Number);
    const date = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
    if (!date) {
      const meal = 60 * hour + minute, down = (minutes) => meal - Math.floor((meal - minutes) / 5 + 1e-9) * 5;
      return {down, gone: () => false, before(minutes) {
        const at = meal - down(minutes), ago = -Math.floor(at / 1440), clock = at + 1440 * ago;
        return Math.floor(clock / 60) + ":" + two(clock % 60) +
          (ago ? ago > 1 ? " " + ago + NBSP + "days before" : " the day before" : "");
      }};
    }
    const eat = new Date(Number(date[1]), date[2] - 1, Number(date[3]), hour, minute), meal = eat.getTime() / 60000;
    const down = (minutes) => meal - Math.floor((meal - minutes) / 5 + 1e-9) * 5;
    return {down, gone: (minutes) => (meal - minutes) * 60000 < Date.now(), before(minutes) {
      const then = new Date((meal - down(minutes)) * 60000), clock = then.getHours() + ":" + two(then.getMinutes());
      return then.toDateString() === eat.toDateString() ? clock : DAYS[then.getDay()] + " " + clock;
    }};
  }
  scaler.clockOf = clockOf;

  function masses(mass) {
    const kilos = mass >= 100 ? Math.round(mass / 10) / 100 : mass / 1000;
    return plain(kilos) + NBSP + "kg (" + plain(Math.round(mass / data.measures.pound * 10) / 10) + NBSP + "lb)";
  }
  function pieceWords(one) {
    const ribs = one.ribs ? one.ribs + NBSP + (one.ribs === 1 ? "rib" : "ribs") + ", " : "";
    return (one.count > 1 ? one.count + " × " : "") + ribs + masses(one.mass);
  }

  // The day: a sentence, its rows, and what is to be said besides.
  function dayOf(one) {
    const {times} = data, cooker = value("cooker") || times.cooker, notes = [];
    const band = times.doneness.find((each) => each.name === value("want"));
    const pull = band ? scaler.pullFor(one, cooker, band.served) : times.pull, time = scaler.timing(one, cooker, pull);
    if (!time) { return {head: "At this pit it never gets to " + bothScales(pull) + ".", rows: [], notes}; }
    const [early, middle, late] = time.minutes, endless = late > 2 * middle, onBoard = bothScales(time.board[1]);
    if (band && Math.abs(time.board[1] - band.served) > 1.5) {
      notes.push("“" + band.name + "” is out of reach here: about " + onBoard + " is what the board gets.");
    }
    if (time.board[0] < times.line) {
      notes.push("Not surely past the household line for " + times.species + ", " + times.line_words + ": see “Keep it safe”.");
    }
    const beyond = scaler.beyond(one);
    if (Math.abs(beyond - 1) > 0.03) {
      notes.push((beyond > 1 ? "Thicker" : "Thinner") + " than the sizes worked out for this page: the times are less sure.");
    }
    if (one.count > 1) { notes.push("Times are for pieces that don’t touch; probe the thickest."); }
    const start = "put on: pit " + times.pit + ", meat from the refrigerator", look = "check the thermometer from here on";
    const resting = times.rest && times.rest % 60 === 0 ? times.rest / 60 + NBSP + "h" : plain(times.rest) + NBSP + "min";
    const rest = "slice, after " + resting + " of rest; about " + onBoard + " in the middle";
    const hm = /^\d{1,2}:\d{2}/.test(value("eat"));
    if (!hm) {
      return {head: "Check from " + hours(early, -1) + ", pull at " + bothScales(pull) + ".", notes, rows: [
        [["0:00"], start], [[hours(early, -1)], look],
        [degrees(pull), "pull, likely by " + (endless ? hours(middle, 1) + ", it may be much longer" : hours(late, 1))],
        [[resting], "rest; about " + onBoard + " in the middle when it is sliced"]]};
    }
    const clock = clockOf(value("eat"), value("day")), lead = scaler.beforeEating(time);
    const on = clock.before(lead), from = clock.before(clock.down(lead) - early);
    if (clock.gone(lead)) { notes.push("That hour is gone: eat later, or on another day."); }
    return {head: "Put on " + on + ", check from " + from + ", eat " + clock.before(0) + ".", notes, rows: [
      [[on], start], [[from], look],
      [degrees(pull), "pull, by " + clock.before(times.rest + times.carve) + " in nine cooks of ten; if sooner, let it rest longer"],
      [[clock.before(times.carve)], rest], [[clock.before(0)], "eat"]]};
  }

  function choose(said) {
    const wanted = value("measures"), spoonful = /tsp|tbsp|cup|quart|pinch|oz|lb/;
    if (wanted !== "us" && wanted !== "metric") { return said; }
    const first = said.find((one) => spoonful.test(one) === (wanted === "us"));
    return [first || said[0]];
  }
  // What is to be bought: the same thing in several batches once, where it is weighed in each.
  function buy(bought, said, item, weight) {
    const same = bought.find((each) => each.item === item && each.weight && weight);
    if (!same) {
      bought.push({item, weight, said: said[0]});
      return;
    }
    same.weight += weight;
    same.said = value("measures") === "us" ? pounds([same.weight, same.weight]) : grams(same.weight);
  }
  function fill(one) {
    const bought = [{said: pieceWords(one), item: cut.name}];
    const needed = data.others.map((other) => [other.amounts.length ? choose(other.amounts) : ["some"], other]);
    const listOf = (title) => {
      const part = element("div", "", lists, "batch");
      element("h3", title, part).dir = "auto";
      return [part, element("ul", "", part, "rows")];
    };
    data.batches.forEach((batch) => {
      const rows = batch.lines.map((line) => [scaler.amounts(batch, line, one), line]);
      if (!batch.title) {
        needed.unshift(...rows.map(([found, line]) => [choose(found.said), line, found.grams]));
        return;
      }
      const [part, list] = listOf(batch.title), total = rows.reduce((sum, [found]) => sum + found.grams, 0);
      rows.forEach(([found, line]) => {
        const said = choose(found.said);
        row(list, said, line.item + (line.prep ? ", " + line.prep : ""));
        if (!line.made) { buy(bought, said, line.item, found.grams); }
      });
      if (total) { element("p", "about " + grams(total) + " in all", part, "small"); }
    });
    if (needed.length) {
      const [, list] = listOf("Also needed");
      needed.forEach(([said, line, weight]) => {
        row(list, said, line.item);
        if (!line.made) { buy(bought, said, line.item, weight); }
      });
    }
    bought.forEach(({said, item}) => { element("li", said + " " + item, shop).dir = "auto"; });
  }

  function mark(fault) {
    [...form.elements].forEach((each) => { each.removeAttribute("aria-invalid"); });
    if (fault && field(fault.field)) { field(fault.field).setAttribute("aria-invalid", "true"); }
  }
  function tell(parts) {
    // Said once: a reader's voice speaks what is put here, so the same words are not put again.
    const said = parts.map((part) => part[0]).join("\n");
    if (said === tell.last) { return; }
    tell.last = said;
    answer.textContent = "";
    parts.forEach(([words, kind]) => { element("p", words, answer, kind); });
  }
  function arrange() {
    const by = value("by");
    form.querySelectorAll("[data-by]").forEach((part) => { part.hidden = !part.dataset.by.split(" ").includes(by); });
    form.querySelectorAll("[data-unit]").forEach((part) => { part.hidden = value("weight-unit") !== part.dataset.unit; });
    form.querySelectorAll("[data-bones]").forEach((part) => { part.hidden = value("bones") === "off"; });
    document.getElementById("s-known").hidden = by === "weight";
  }
  function show() {
    arrange();
    const known = scaler.known(value), bones = value("bones") || data.own.bones || "";
    let fault = known.fault, one = null, doubt = "";
    if (!fault) {
      one = scaler.piece(known, bones);
      doubt = scaler.doubt(one, known, value);
      if (scaler.refused(one)) { fault = {field: {mass: "weight"}[one.misfit && one.misfit.name] || (one.misfit || {}).name, words: doubt}; }
    }
    mark(fault);
    dayList.textContent = lists.textContent = shop.textContent = "";
    document.getElementById("scaler-result").hidden = Boolean(fault);
    if (fault) {
      tell([[fault.words, "headline"]]);
      return;
    }
    const spec = value("faces"), notes = doubt ? [doubt] : [];
    if (spec) { one.coated = cut.faces[spec][bones]; }
    if (one.mass < 0.8 * cut.usual[0] || one.mass > 1.2 * cut.usual[1]) {
      notes.push("An unusual size for " + cut.name + ": look twice at the measure.");
    }
    const day = data.times ? dayOf(one) : {head: "", rows: [], notes: []};
    day.rows.forEach(([said, words]) => { row(dayList, said, words); });
    tell([[pieceWords(one) + (day.head ? "" : " " + cut.name), day.head ? "small" : "headline"],
      ...(day.head ? [[day.head, "headline"]] : []), ...notes.concat(day.notes).map((words) => [words, "small"])]);
    fill(one);
  }

  // Another unit says the same size; a measure of the viewer's own takes the place of the card's weight.
  let ownWeight = true;
  const units = {"weight-unit": value("weight-unit"), "length-unit": value("length-unit")};
  const shorter = (number) => plain(Number(number.toPrecision(4)));
  function turn(name) {
    const was = units[name], now = units[name] = value(name);
    if (was === now) { return; }
    if (name === "length-unit") {
      ["length", "girth", "width", "thickness", "thick", "thin", "frenched"].forEach((each) => {
        const size = scaler.number(value(each));
        if (size > 0) { field(each).value = shorter(now === "in" ? size / 2.54 : size * 2.54); }
      });
      return;
    }
    const whole = scaler.number(value("weight")) || 0, rest = scaler.number(value("ounces")) || 0;
    const kilos = now === "lb" ? whole : (whole + rest / 16) * data.measures.pound / 1000;
    field("ounces").value = "";
    if (kilos > 0) { field("weight").value = shorter(now === "lb" ? Math.round(10000 * kilos / data.measures.pound) / 10 : kilos); }
  }
  form.addEventListener("input", (event) => {
    const {name} = event.target;
    if (name === "weight" || name === "ounces") { ownWeight = false; }
    if (ownWeight && ["ribs", "length", "girth", "width", "thickness", "thick", "thin"].includes(name)) {
      field("weight").value = field("ounces").value = "";
    }
    if (name in units) { turn(name); }
    show();
  });
  form.addEventListener("submit", (event) => { event.preventDefault(); });
  ["scaler-part", "scaler-jump"].forEach((id) => { document.getElementById(id).hidden = false; });
  show();
}(window.scaler));
