// What ical.js sees in calendars: a JSON list of their texts in, a list of their events out, by UID.
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const seen = (event) => {
  const { uid, startDate, endDate, summary, description, sequence, component } = new ICAL.Event(event);
  return [uid, {
    first: startDate.isDate && startDate.toString(),
    after: endDate.isDate && endDate.toString(),
    summary,
    description,
    sequence,
    status: component.getFirstPropertyValue("status"),
    alarms: component.getAllSubcomponents("valarm").map((alarm) => alarm.getFirstPropertyValue("trigger").toSeconds()),
  }];
};

const events = (text) => new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent");
const calendars = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(calendars.map((text) => events(text).map(seen))));
