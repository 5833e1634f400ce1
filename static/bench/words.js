/**
 * Texts in the chosen language. Messages are their own English; what has no translation stays
 * English. Figures and times follow the language too.
 */
import { fetchWords } from './network.js';

/** @type {Record<string, string | string[]>} */
let words = {};
let language = 'en';
let region = 'en-GB';

/**
 * Switch the language; keeps the old one if the words cannot be had.
 * @param {string} wanted
 */
export async function speak(wanted) {
  words = wanted === 'en' ? {} : await fetchWords(wanted);
  language = wanted;
  region = navigator.languages.find((tag) => tag.split('-')[0] === wanted) ?? defaultRegion(wanted);
  document.documentElement.lang = wanted;
  document.documentElement.dir = new Intl.Locale(wanted).maximize().script === 'Arab' ? 'rtl' : 'ltr';
}

/** @param {string} wanted */
function defaultRegion(wanted) {
  return wanted === 'en' ? 'en-GB' : wanted;
}

/** Language in use. */
export function currentLanguage() {
  return language;
}

/**
 * Text of a message, its `%(name)s` places filled.
 * @param {string} message
 * @param {Record<string, string | number>} [values]
 * @returns {string}
 */
export function t(message, values = {}) {
  const found = words[message];
  return fill((Array.isArray(found) ? found[0] : found) || message, values);
}

/**
 * Text that depends on a count, which also fills `%(num)s`.
 * @param {string} one
 * @param {string} many
 * @param {number} count
 * @returns {string}
 */
export function tn(one, many, count) {
  const forms = words[one];
  const categories = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
  const index = categories.indexOf(new Intl.PluralRules(language).select(count));
  const english = count === 1 ? one : many;
  const text = Array.isArray(forms) ? (forms[Math.min(index, forms.length - 1)] ?? english) : english;
  return fill(text, { num: figure(String(count)) });
}

/**
 * @param {string} text
 * @param {Record<string, string | number>} values
 */
function fill(text, values) {
  return text.replace(/%\((\w+)\)s/g, (place, name) =>
    name in values ? String(values[name]) : place,
  );
}

/** Decimal mark of the language, for the keypad and every figure. */
export function decimalMark() {
  const parts = new Intl.NumberFormat(region).formatToParts(1.5);
  return parts.find((part) => part.type === 'decimal')?.value ?? '.';
}

/**
 * A recorded figure with the decimal mark of the language; its digits stay as they are.
 * @param {string} value
 */
export function figure(value) {
  return value.replace('.', decimalMark()).replace('-', '\u2212');
}

/**
 * Time of day of a moment.
 * @param {string} utc  RFC 3339
 */
export function clock(utc) {
  return new Intl.DateTimeFormat(region, { hour: '2-digit', minute: '2-digit' }).format(new Date(utc));
}

/**
 * Day of a moment.
 * @param {string} utc  RFC 3339
 */
export function day(utc) {
  return new Intl.DateTimeFormat(region, { dateStyle: 'medium' }).format(new Date(utc));
}

/**
 * Day of a moment some days from now: its weekday, and no year.
 * @param {string} utc  RFC 3339
 */
export function shortDay(utc) {
  const form = new Intl.DateTimeFormat(region, { weekday: 'short', day: 'numeric', month: 'short' });
  return form.format(new Date(utc));
}

/**
 * Date and time of a moment.
 * @param {string} utc  RFC 3339
 */
export function dateAndTime(utc) {
  const form = new Intl.DateTimeFormat(region, { dateStyle: 'medium', timeStyle: 'medium' });
  return form.format(new Date(utc));
}
