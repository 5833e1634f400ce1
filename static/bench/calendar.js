/**
 * Times for the phone's own calendar, which rings on a locked screen: a file of RFC 5545.
 *
 * Lines end in CRLF and are folded at 75 octets (3.1); texts are escaped (3.3.11); times are in UTC
 * (3.3.5); each event has an alarm that displays (3.6.6) at its time and one five minutes before.
 */

/**
 * One time to be handed over.
 * @typedef {{uid: string, at: string, title: string, text: string}} CalendarTime
 */

const LINE_OCTETS = 75;
const LASTS_MS = 15 * 60 * 1000;

/**
 * @param {readonly CalendarTime[]} times  `at` RFC 3339; `uid` the same whenever the same time is handed over
 * @param {string} now  RFC 3339
 * @returns {string} text/calendar
 */
export function calendarOf(times, now) {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Scale Companion//Clocks//EN',
    'CALSCALE:GREGORIAN',
    ...times.flatMap((time) => eventOf(time, now)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${foldLine(line)}\r\n`).join('');
}

/**
 * @param {CalendarTime} time
 * @param {string} now
 */
function eventOf({ uid, at, title, text }, now) {
  const end = new Date(Date.parse(at) + LASTS_MS).toISOString();
  return [
    'BEGIN:VEVENT',
    `UID:${uid}`,
    `DTSTAMP:${moment(now)}`,
    `DTSTART:${moment(at)}`,
    `DTEND:${moment(end)}`,
    `SUMMARY:${escapeText(title)}`,
    `DESCRIPTION:${escapeText(text)}`,
    ...alarm('-PT5M', title),
    ...alarm('PT0S', title),
    'END:VEVENT',
  ];
}

/**
 * @param {string} trigger  from the start of the event
 * @param {string} title
 */
function alarm(trigger, title) {
  return ['BEGIN:VALARM', 'ACTION:DISPLAY', `TRIGGER:${trigger}`, `DESCRIPTION:${escapeText(title)}`, 'END:VALARM'];
}

/** Form of a UTC time in a calendar. @param {string} utc */
function moment(utc) {
  return `${new Date(utc).toISOString().replace(/[-:]|\.\d+/g, '')}`;
}

/**
 * A text as RFC 5545 3.3.11 wants it; the colon stays.
 * @param {string} text
 */
export function escapeText(text) {
  return text.replace(/\\/g, '\\\\').replace(/;/g, '\\;').replace(/,/g, '\\,').replace(/\r?\n/g, '\\n');
}

/**
 * A content line in pieces of at most 75 octets, no character split; each piece but the first begins
 * with a space.
 * @param {string} line
 */
export function foldLine(line) {
  const encoder = new TextEncoder();
  const pieces = [''];
  let octets = 0;
  for (const character of line) {
    const size = encoder.encode(character).length;
    if (octets + size > LINE_OCTETS) {
      pieces.push(' ');
      octets = 1;
    }
    pieces[pieces.length - 1] += character;
    octets += size;
  }
  return pieces.join('\r\n');
}
