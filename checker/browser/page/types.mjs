/**
 * Shapes of the data that the page handles, for readers and for editors that check JSDoc. No code runs here.
 * The answer is what `boardwright.browser.in_parts` gives (schema "boardwright-report/1"): the drawings come behind the rest.
 *
 * @typedef {Object} Span  a stretch of the board's text: lines and columns count from 1, columns in UTF-16 units,
 *   the end is exclusive
 * @property {number} line
 * @property {number} column
 * @property {number} end_line
 * @property {number} end_column
 *
 * @typedef {"danger" | "fault" | "risk" | "advice"} Severity
 * @typedef {Severity | "problem" | "undecided" | "accepted" | "unused"} Kind  everything that has a shape and a word of its own
 *
 * @typedef {{name: string, where: string, at: Span | null}} Thing
 * @typedef {{name: string, text: string, value: number | null, unit: string, origin: string}} Figure
 *
 * @typedef {{title: string, edits: {at: Span, text: string}[]}} Edit  a way to mend the text: its changes, in the order of the text
 *
 * @typedef {Object} Problem  a mistake in the text itself
 * @property {"syntax" | "key" | "value" | "name" | "bound"} kind
 * @property {string} message
 * @property {string | null} expected
 * @property {string} where
 * @property {Span | null} at
 * @property {Edit[]} edits
 *
 * @typedef {Object} Finding
 * @property {string} rule
 * @property {string} title
 * @property {Severity} severity
 * @property {string} sentence
 * @property {string} remedy
 * @property {Thing[]} things
 * @property {Span | null} at
 * @property {Figure[]} numbers
 * @property {string} lesson  relative to the site's base
 * @property {string} page  relative to the site's base
 * @property {string | null} witness  a state of the switches in which it happens
 * @property {{rule: string, sentence: string}[]} folded
 * @property {Edit[]} edits
 *
 * @typedef {Object} Question  what a rule could not decide
 * @property {string} rule
 * @property {string} title
 * @property {string} question
 * @property {Thing[]} things
 * @property {Span | null} at
 * @property {string} lesson
 * @property {string} page
 * @property {Severity} [severity]
 * @property {boolean} [before_power]
 *
 * @typedef {{rule: string, title: string, sentence: string, because: string, things: Thing[], at: Span | null}} Accepted
 *
 * @typedef {Object} CoverageRow
 * @property {string} rule
 * @property {string} title
 * @property {string} family
 * @property {string} page
 * @property {number} trips
 * @property {number} clear
 * @property {number} cannot_tell
 * @property {boolean} not_applicable
 * @property {number} accepted
 *
 * @typedef {{name: string, at: Span | null, watts: number, total_watts: number | null, lost_watts: number, case_celsius: number,
 *   complete: boolean}} SupplyFigures  `complete`: the draw of everything on it is known
 * @typedef {{name: string, supply: string, at: Span | null, label: string, volts: number | null, amps: number, rating_amps: number | null,
 *   share: number | null, watts: number | null, devices: string[], complete: boolean}} OutletFigures
 * @typedef {{name: string, at: Span | null, source: string, label: string, volts: number | null, amps: number | null, watts: number | null,
 *   lost_volts: number | null, origin: string}} DeviceFigures
 * @typedef {{supplies: SupplyFigures[], outlets: OutletFigures[], devices: DeviceFigures[]}} PowerFigures  in V, A, W, °C and shares
 *
 * @typedef {Object} Answer
 * @property {string} schema
 * @property {{name: string | null, purpose: string | null}} board
 * @property {string} headline
 * @property {Problem[]} problems
 * @property {string[]} skipped  what was written and could not be judged, as dotted paths
 * @property {Finding[]} findings
 * @property {Question[]} check_first
 * @property {Question[]} undecided
 * @property {Accepted[]} accepted
 * @property {{rule: string, at: Span | null, why: string}[]} unused_accepts  acceptances that silence nothing
 * @property {string[]} [assumptions]
 * @property {CoverageRow[]} coverage
 * @property {PowerFigures} power
 * @property {string} text
 * @property {Promise<Object<string, string>>} drawings  SVG by name
 *
 * @typedef {Object} Mark  one thing to show beside a line of the text
 * @property {Kind} kind
 * @property {Span} at
 * @property {string} message
 * @property {string} key  names the card of the answer that says more
 *
 * @typedef {Object} Editor  what the workbench asks of an editor; the plain text box and the code editor both give it
 * @property {HTMLElement} element
 * @property {() => string} text
 * @property {(text: string) => void} setText  can be undone like typing
 * @property {(changes: {from: number, to: number, insert: string}[]) => void} change  all at once, in the order of the text; one
 *   step for undoing
 * @property {(text: string) => void} open  another board, with a history of its own
 * @property {(marks: Mark[]) => void} setMarks
 * @property {(span: Span) => void} jump  selects the span, scrolls to it and takes the focus
 * @property {() => boolean} hasFocus
 * @property {() => [number, number]} selection  anchor and head, as offsets into the text
 * @property {(anchor: number, head: number) => void} select
 * @property {() => void} focus
 * @property {() => void} destroy
 *
 * @typedef {Object} EditorOptions
 * @property {() => Promise<import("./words.mjs").Words>} words  that the code editor offers and explains
 * @property {(how: "typed" | "pasted") => void} onChange
 * @property {(key: string) => void} onMark  a mark beside a line was clicked
 */
export {};
