/**
 * One card for each thing that an answer says: what it is, in words and numbers, how to mend it, and buttons to every
 * line that it is about.
 */
import { counted, html, prose, siteLink } from "./dom.mjs";
import { KINDS, shape } from "./kinds.mjs";

/** @typedef {import("./types.mjs").Accepted} Accepted */
/** @typedef {import("./types.mjs").Edit} Edit */
/** @typedef {import("./types.mjs").Figure} Figure */
/** @typedef {import("./types.mjs").Finding} Finding */
/** @typedef {import("./types.mjs").Kind} Kind */
/** @typedef {import("./types.mjs").Problem} Problem */
/** @typedef {import("./types.mjs").Question} Question */
/** @typedef {import("./types.mjs").Span} Span */
/** @typedef {{at: Span | null, things?: import("./types.mjs").Thing[]}} Placed */
/** @typedef {{title: string, lesson: string, page: string}} Readable */

/**
 * @typedef {Object} ViewOptions
 * @property {string} baseUrl  absolute address of the site's root, ending in a slash
 * @property {(span: Span, from: HTMLElement) => void} [onJump]  moves an editor's cursor; without it a place is only named
 * @property {(edit: Edit, id: string) => HTMLElement} [mend]  offers an edit, with its preview; without it none is offered
 * @property {string} [idPrefix]  keeps the ids of two answers on one page apart
 */

/**
 * What a question is about. The rule's title names what would be wrong, and nothing is known to be wrong yet.
 * @param {{name: string}[]} things
 */
function whatIsAsked(things) {
  const names = [...new Set(things.map(({ name }) => name))];
  return names.length > 3 ? `${names.slice(0, 3).join(", ")} and others` : names.join(", ");
}

export class Cards {
  /** @param {ViewOptions} options */
  constructor({ baseUrl, onJump, mend, idPrefix = "answer" }) {
    this.baseUrl = baseUrl;
    this.onJump = onJump;
    this.mend = mend;
    this.idPrefix = idPrefix;
  }

  // Keys name cards; marks beside the lines lead to them by the same keys (marks.mjs).

  /** @param {Finding} finding @param {string} key */
  finding(finding, key) {
    return this.card(
      finding.severity,
      key,
      finding.title,
      html("p", {}, prose(finding.sentence)),
      numbers(finding.numbers),
      labelled("How to mend it", finding.remedy),
      finding.witness ? labelled("Seen", finding.witness) : null,
      ...this.edits(finding.edits, key),
      this.folded(finding.folded, key),
      this.foot(key, finding, finding),
    );
  }

  /** @param {Problem} problem @param {string} key */
  problem(problem, key) {
    const title = problem.where || "The text as a whole";
    const message = html("p", {}, prose(problem.message));
    return this.card("problem", key, title, message, this.expected(problem.expected, key), ...this.edits(problem.edits, key), this.foot(key, problem));
  }

  /**
   * @param {Question} question
   * @param {string} key
   * @param {boolean} beforePower  whether to say that it is to be answered before anything is plugged in
   */
  question(question, key, beforePower) {
    const before = beforePower ? html("strong", {}, "Before you plug in: ") : null;
    return this.card("undecided", key, whatIsAsked(question.things), html("p", {}, before, prose(question.question)), this.foot(key, question, question));
  }

  /** @param {Accepted} accepted @param {string} key */
  accepted(accepted, key) {
    const sentence = html("p", {}, prose(accepted.sentence));
    const reason = labelled("The reason given", accepted.because);
    return this.card("accepted", key, accepted.title, sentence, reason, this.foot(key, accepted));
  }

  /** @param {{rule: string, at: Span | null, why: string}} unused @param {string} key */
  unused(unused, key) {
    const sentence = html("p", {}, unused.why);
    return this.card("unused", key, unused.rule, sentence, this.foot(key, unused));
  }

  /**
   * @param {Kind} kind
   * @param {string} key
   * @param {string} title
   * @param {(Node | null)[]} parts
   */
  card(kind, key, title, ...parts) {
    const head = html(
      "h4",
      { class: "bw-card__head" },
      html("span", { class: "bw-tag" }, shape(kind), KINDS[kind].word),
      unseen(": "),
      html("span", { class: "bw-card__title" }, title),
    );
    return html("li", { id: this.id(key), class: `bw-card bw-card--${kind}`, tabindex: -1 }, head, parts);
  }

  /** A list of every key that a section knows is long, and seldom what the reader wants. @param {string | null} expected @param {string} key */
  expected(expected, key) {
    const label = "What may stand here";
    if (!expected) return null;
    return expected.length > 160 ? this.fold(`${key}-expected`, label, html("p", {}, prose(expected))) : labelled(label, expected);
  }

  /** @param {Edit[]} [edits] @param {string} [key] */
  edits(edits = [], key = "") {
    const { mend } = this;
    return mend ? edits.map((edit, index) => mend(edit, this.id(`${key}-edit-${index}`))) : [];
  }

  /** @param {{rule: string, sentence: string}[]} folded @param {string} key */
  folded(folded, key) {
    if (folded.length === 0) return null;
    const summary = `${counted(folded.length, "more effect")} of the same cause`;
    const items = folded.map(({ sentence }) => html("li", {}, prose(sentence)));
    return this.fold(`${key}-folded`, summary, html("ul", { class: "bw-list" }, items));
  }

  /**
   * Where it is, and where to read more.
   * @param {string} key
   * @param {Placed} said
   * @param {Readable} [read]
   */
  foot(key, said, read) {
    const parts = [this.places(said, key), read ? this.links(read) : null].filter((part) => part !== null);
    return parts.length ? html("div", { class: "bw-foot" }, parts) : null;
  }

  /** Buttons to every line that is concerned, each line once. @param {Placed} said @param {string} key */
  places({ at, things = [] }, key) {
    /** @type {Map<number, {span: Span, name: string}>} */
    const places = new Map();
    for (const { span, name } of [{ span: at, name: "" }, ...things.map((thing) => ({ span: thing.at, name: thing.name }))]) {
      if (!span) continue;
      const known = places.get(span.line);
      if (known) known.name ||= name;
      else places.set(span.line, { span, name });
    }
    if (places.size === 0) return null;
    const buttons = [...places.values()].map(({ span, name }, index) => this.place(span, name, `${key}-place-${index}`));
    return html("p", { class: "bw-places" }, buttons);
  }

  /** @param {Span} span @param {string} name @param {string} key */
  place(span, name, key) {
    const words = name
      ? [html("span", { class: "bw-jump__name" }, name), unseen(", "), html("span", { class: "bw-jump__line" }, `line ${span.line}`)]
      : [html("span", { class: "bw-jump__line" }, `Line ${span.line}`)];
    const { onJump } = this;
    if (!onJump) return html("span", { class: "bw-jump" }, words);
    /** @type {HTMLButtonElement} */
    const button = html("button", { type: "button", id: this.id(key), class: "bw-jump", click: () => onJump(span, button) }, words);
    return button;
  }

  /** @param {Readable} read */
  links({ title, lesson, page }) {
    const links = [
      ["Lesson", lesson],
      ["Rule", page],
    ].flatMap(([word, path]) => {
      const href = siteLink(path, this.baseUrl);
      return href ? [html("a", { href }, word, unseen(`: ${title}`))] : [];
    });
    return links.length ? html("p", { class: "bw-links" }, links) : null;
  }

  /** @param {string} key @param {string} summary @param {...Node} parts */
  fold(key, summary, ...parts) {
    const body = html("div", { class: "bw-fold__body" }, parts);
    return html("details", { id: this.id(key), class: "bw-fold" }, html("summary", {}, summary), body);
  }

  /** @param {string} key */
  id(key) {
    return `${this.idPrefix}-${key}`;
  }
}

/** @param {Figure[]} figures */
function numbers(figures) {
  if (figures.length === 0) return null;
  const pairs = figures.map(({ name, text, origin }) => {
    const value = html("span", { class: "bw-numbers__value" }, text);
    return html("div", {}, html("dt", {}, name), html("dd", {}, value, " ", html("span", { class: "bw-numbers__origin" }, origin)));
  });
  return html("dl", { class: "bw-numbers" }, pairs);
}

/** @param {string} label @param {string} words */
function labelled(label, words) {
  if (!words) return null;
  const named = html("span", { class: "bw-labelled__label" }, label);
  return html("p", { class: "bw-labelled" }, named, unseen(": "), html("span", {}, prose(words)));
}

/** For screen readers only. @param {string} words */
export function unseen(words) {
  return html("span", { class: "bw-unseen" }, words);
}
