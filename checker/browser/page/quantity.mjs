/** Quantities in words as the text report gives them: three significant digits and an SI prefix. */

const PREFIXES = new Map([
  [-12, "p"],
  [-9, "n"],
  [-6, "µ"],
  [-3, "m"],
  [0, ""],
  [3, "k"],
  [6, "M"],
  [9, "G"],
]);

/**
 * `tell(0.11, "A")` is "110 mA"; `tell(0.8, "%")` is "80 %".
 * @param {number} value  in the unit itself; a share for "%"
 * @param {string} unit
 */
export function tell(value, unit) {
  if (unit === "%") return `${minus(rounded(value * 100))} %`;
  if (unit === "°C") return `${minus(rounded(value))} °C`;
  const exponent = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(rounded(value))) / 3) * 3;
  const kept = Math.min(Math.max(exponent, -12), 9);
  return `${minus(rounded(value / 10 ** kept))} ${PREFIXES.get(kept)}${unit}`;
}

/** To three significant digits. @param {number} value */
function rounded(value) {
  return Number(value.toPrecision(3));
}

/** With a true minus sign. @param {number} value */
function minus(value) {
  return String(value).replace("-", "−");
}
