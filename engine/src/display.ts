/** How figures are written, everywhere: page, paper, console. One place, so that they read alike. */

const MINUS = '\u2212'
const NARROW_SPACE = '\u202f'
const SUPERSCRIPTS: Record<string, string> = {
  '-': '⁻',
  '0': '⁰',
  '1': '¹',
  '2': '²',
  '3': '³',
  '4': '⁴',
  '5': '⁵',
  '6': '⁶',
  '7': '⁷',
  '8': '⁸',
  '9': '⁹',
}

/**
 * A number to a number of significant digits, with a true minus, thin spaces between thousands and a power of ten where it
 * is very small or very large.
 */
export function formatNumber(value: number, significant = 4): string {
  if (value === 0) return '0'
  const size = Math.abs(value)
  if (Number.isInteger(value) && size < 1e9) return `${value < 0 ? MINUS : ''}${thousands(String(size))}`
  if (size < 1e-3 || size >= 1e9) return scientific(value, Math.min(significant, 3))
  const rounded = Number(value.toPrecision(significant))
  const decimals = Math.max(0, significant - 1 - Math.floor(Math.log10(Math.abs(rounded))))
  const [whole = '0', fraction] = Math.abs(rounded).toFixed(Math.min(decimals, 6)).split('.')
  const kept = fraction?.replace(/0+$/, '')
  const digits = `${thousands(whole)}${kept ? `.${kept}` : ''}`
  return rounded < 0 ? `${MINUS}${digits}` : digits
}

/** A number to a fixed number of decimals, for columns that align on the point. */
export function formatFixed(value: number, decimals: number): string {
  const rounded = Number(value.toFixed(decimals))
  const [whole = '0', fraction] = Math.abs(rounded).toFixed(decimals).split('.')
  const digits = `${thousands(whole)}${fraction === undefined ? '' : `.${fraction}`}`
  return rounded < 0 ? `${MINUS}${digits}` : digits
}

/** A value with its unit: `0.046 mm`, `4.1 × 10⁻⁸`, `99.94 %`, `−40 °C`. */
export function formatQuantity(value: number, unit: string, significant = 4): string {
  return unit === '' ? formatNumber(value, significant) : `${formatNumber(value, significant)}${NARROW_SPACE}${unit}`
}

/** Minutes as a person says them: `45 s`, `8 min`, `1 h 24`, `64 h 05`. */
export function formatMinutes(minutes: number): string {
  if (minutes < 2) return `${formatNumber(minutes * 60, 3)}${NARROW_SPACE}s`
  const whole = Math.round(minutes)
  if (whole < 60) return `${formatNumber(minutes, 3)}${NARROW_SPACE}min`
  return `${Math.floor(whole / 60)}${NARROW_SPACE}h${whole % 60 === 0 ? '' : ` ${String(whole % 60).padStart(2, '0')}`}`
}

/** A number as TeX, for a working. */
export function texNumber(value: number, significant = 4): string {
  if (value === 0) return '0'
  const size = Math.abs(value)
  if (size >= 1e-3 && size < 1e6) return String(Number(value.toPrecision(significant)))
  const [mantissa = '0', exponent = '0'] = value.toExponential(Math.min(significant, 4) - 1).split('e')
  return `${Number(mantissa)} \\times 10^{${Number(exponent)}}`
}

/** A number with its unit as TeX. */
export function texQuantity(value: number, unit: string, significant = 4): string {
  return unit === ''
    ? texNumber(value, significant)
    : `${texNumber(value, significant)}\\,\\text{${unit.replaceAll('%', '\\%')}}`
}

function scientific(value: number, significant: number): string {
  const [mantissa = '0', exponent = '0'] = value.toExponential(significant - 1).split('e')
  const power = [...String(Number(exponent))].map((c) => SUPERSCRIPTS[c] ?? c).join('')
  const short = String(Number(mantissa)).replace('-', MINUS)
  return short === '1' ? `10${power}` : `${short} × 10${power}`
}

function thousands(whole: string): string {
  return whole.length <= 4 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, NARROW_SPACE)
}
