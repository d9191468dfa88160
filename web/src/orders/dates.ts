const DAY = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' })

/** `2027-01-18` → `18 January 2027`. */
export function dayWords(day: string): string {
  return DAY.format(new Date(`${day}T00:00:00Z`))
}
