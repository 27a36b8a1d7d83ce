"use strict";
// Our own words in the page's language. `handbookWords`, which stands before this script, is made
// by handbook/outputs/i18n/scripts.py: `messages` from the catalogue, each under the English one;
// `plural`, which of its forms a number asks for; `formats` of days. What it lacks is said in English.

// Values stand in a message as %(name)s. If one is an element the whole is a fragment, so that it
// may stand wherever the language wants it.
function filled(message, values) {
  const parts = [...message.matchAll(/%\((\w+)\)s|%%|[^%]+/g)].map(([all, name]) => (name ? values[name] : all === "%%" ? "%" : all));
  const textOf = (part) => unmarked(part instanceof Node ? part.textContent : String(part));
  parts.forEach((part, place) => { // a value's own period, as in `4:40 p. m.`, ends the sentence too
    if (place && /^\.(?!\S)/.test(part) && /[^\s./]\.$/.test(textOf(parts[place - 1]))) parts[place] = part.slice(1);
  });
  // A value's own period, as in `4:40 p. m.`, ends the sentence too.
  if (!parts.some((part) => part instanceof Node)) return parts.join("").replace(/([^\s./])\.\.(?=\s|$)/g, "$1.");
  const made = document.createDocumentFragment();
  made.append(...parts.flatMap(nodesOf));
  return made;
}

const known = (key, english) => handbookWords.messages[key] || english;
const formOf = (forms, number) => (Array.isArray(forms) ? forms[handbookWords.plural(number)] : number === 1 ? forms.one : forms.many);

function gettext(message, values) { return filled(known(message, message), values); }

// A message that means different things; `context` tells which is meant.
function pgettext(context, message, values) { return filled(known(`${context}\u0004${message}`, message), values); }

// A message about a number, which it may name as %(num)s.
function ngettext(one, many, num, values) {
  return filled(formOf(known(one, { one, many }), num), { num, ...values });
}

function npgettext(context, one, many, num, values) {
  return filled(formOf(known(`${context}\u0004${one}`, { one, many }), num), { num, ...values });
}

// Facts side by side; empty ones are left out.
function besides(...facts) {
  const [first = "", ...others] = facts.filter(Boolean);
  return others.reduce((before, fact) => filled(`%(before)s${handbookWords.formats.clause}%(fact)s`, { before, fact }), first);
}

// Things one after the other, each of which may have commas.
const inARow = (things) => things.join(handbookWords.formats.semicolon);

// A text of the content that is not in the page's language comes between marks, with its code:
// on the page it is an element of its own, elsewhere (`unmarked`) its words alone.
const MARKED = /\ue000([^\ue001]*)\ue001([^\ue000\ue002]*)\ue002/;

const unmarked = (text) => text.split(MARKED).filter((_, place) => place % 3 !== 1).join("");

function nodesOf(content) {
  if (typeof content !== "string" || !content.includes("\ue000")) return [content];
  const parts = content.split(MARKED);
  return parts.flatMap((part, place) => {
    if (place % 3 !== 2) return place % 3 ? [] : [part.replace(/[\ue000-\ue002]/g, "")];
    const made = document.createElement("span");
    Object.assign(made, { lang: parts[place - 1], dir: "auto", textContent: part });
    return [made];
  });
}

// An element of a page; of its content what is empty is left out.
function element(tag, className, ...content) {
  const made = document.createElement(tag);
  if (className) made.className = className;
  made.append(...content.filter(Boolean).flatMap(nodesOf));
  return made;
}

function dot() {
  const made = element("span", "dot", "·");
  made.setAttribute("aria-hidden", "true");
  return made;
}

// The words around the values of a message, in a class of their own.
function dressWords(made, className) {
  for (const node of [...made.childNodes]) {
    if (node.nodeType !== Node.TEXT_NODE) continue;
    const words = document.createElement("span");
    words.className = className;
    node.replaceWith(words);
    words.append(node);
  }
  return made;
}

// What stands on the page already, with the elements in it.
function copyOf(element) {
  const made = document.createDocumentFragment();
  if (element) made.append(...[...element.childNodes].map((node) => node.cloneNode(true)));
  return made;
}

// A day as 2026-12-17 by one of the language's patterns, in the letters of Unicode CLDR.
function writtenDay(iso, pattern) {
  const day = new Date(`${iso}T00:00:00Z`);
  const { months, shortMonths, days, shortDays } = handbookWords.formats;
  const month = day.getUTCMonth(), weekday = (day.getUTCDay() + 6) % 7;
  const letters = {
    EEEE: days[weekday], EEE: shortDays[weekday], MMMM: months[month], MMM: shortMonths[month],
    M: month + 1, d: day.getUTCDate(), y: day.getUTCFullYear(),
  };
  return (handbookWords.formats[pattern] || pattern).replace(/'([^']*)'|E+|M+|d+|y+/g, (found, quoted) => quoted ?? letters[found]);
}
