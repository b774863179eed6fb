// What ical.js sees in calendars: a JSON list of their texts in, a list of their events out, by UID.
// shown, rings: on which day and when by the clock of the zone in TZ an event stands and its alarms ring.
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const two = (number) => String(number).padStart(2, "0");
const clock = (time) => {
  const at = time.toJSDate();
  const day = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join("-");
  return `${day} ${two(at.getHours())}:${two(at.getMinutes())}`;
};
const rung = (start, trigger) => {
  const at = start.clone();
  at.isDate = false;
  at.addDuration(trigger);
  return clock(at);
};

const seen = (event) => {
  const { uid, startDate, endDate, summary, description, sequence, component } = new ICAL.Event(event);
  const triggers = component.getAllSubcomponents("valarm").map((alarm) => alarm.getFirstPropertyValue("trigger"));
  return [uid, {
    first: startDate.isDate && startDate.toString(),
    after: endDate.isDate && endDate.toString(),
    summary,
    description,
    sequence,
    status: component.getFirstPropertyValue("status"),
    alarms: triggers.map((trigger) => trigger.toSeconds()),
    shown: clock(startDate),
    rings: triggers.map((trigger) => rung(startDate, trigger)),
  }];
};

const events = (text) => new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
const calendars = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(calendars.map((text) => events(text).map(seen))));
