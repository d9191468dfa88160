import { createHash } from 'node:crypto'
import { combine, split } from 'shamir-secret-sharing'
import type { Outcome } from '../register.ts'
import { keyCheckOf } from '../works-key.ts'

/** How many sheets are printed, and how many of them together give the works key back. */
export interface SheetPlan {
  readonly sheets: number
  readonly needed: number
}

const FORM = 'HW1'
const SHARE = /^HW1-([0-9a-f]{16})-([0-9a-f]+)-([0-9a-f]{6})$/
const MOST_SHEETS = 20

/**
 * Splits the works key (Shamir's secret sharing) into texts to print, one a sheet, each for another person. Fewer than are
 * needed tell nothing about it. Each names the key's check, so that sheets of two keys are not mixed.
 */
export async function splitWorksKey(
  worksKeyHex: string,
  { sheets, needed }: SheetPlan,
): Promise<Outcome<readonly string[]>> {
  if (
    !(Number.isInteger(sheets) && Number.isInteger(needed) && 2 <= needed && needed <= sheets && sheets <= MOST_SHEETS)
  )
    return refusal('sheets', 'So many sheets cannot be made.', `2 to ${MOST_SHEETS} sheets, at least 2 of them needed`)
  const shares = await split(Uint8Array.from(Buffer.from(worksKeyHex, 'hex')), sheets, needed)
  const check = keyCheckOf(worksKeyHex)
  const texts = shares.map((share) => `${check}-${Buffer.from(share).toString('hex')}`)
  return { ok: true, value: texts.map((text) => `${FORM}-${text}-${sumOf(text)}`) }
}

/** The works key from its sheets; too few, mixed or mistyped ones are refused. */
export async function joinWorksKey(texts: readonly string[]): Promise<Outcome<string>> {
  const sheets = [...new Set(texts.map((text) => text.replaceAll(/\s/g, '')))].map((text) => SHARE.exec(text))
  const badSheet = sheets.indexOf(null)
  if (badSheet >= 0) return refusal(`sheets[${badSheet}]`, 'This is not the text of a recovery sheet. Read it again.')
  const misread = sheets.findIndex((sheet) => sumOf(`${sheet?.[1]}-${sheet?.[2]}`) !== sheet?.[3])
  if (misread >= 0) return refusal(`sheets[${misread}]`, 'A letter of this sheet was misread. Read it again.')
  const checks = new Set(sheets.map((sheet) => sheet?.[1]))
  if (checks.size > 1) return refusal('sheets', 'These sheets belong to different works keys.')
  if (sheets.length < 2) return refusal('sheets', 'One sheet is not enough.')
  const [check] = checks
  try {
    const key = await combine(sheets.map((sheet) => Uint8Array.from(Buffer.from(sheet?.[2] ?? '', 'hex'))))
    const hex = Buffer.from(key).toString('hex')
    if (keyCheckOf(hex) === check) return { ok: true, value: hex }
  } catch {
    // Shares of different lengths: a sheet was mistyped, as below.
  }
  return refusal('sheets', 'These sheets do not give the works key: there are too few of them.')
}

/** Finds a misread letter on its sheet; it tells nothing that is not printed there. */
const sumOf = (text: string) => createHash('sha256').update(text).digest('hex').slice(0, 6)

const refusal = (path: string, message: string, allowed?: string) => ({
  ok: false as const,
  issues: [{ path, code: 'bad-format' as const, message, ...(allowed === undefined ? {} : { allowed }) }],
})
