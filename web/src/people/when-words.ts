/** A moment, to the minute, in the clock of whoever reads it. */
export function whenWords(at: string): string {
  const moment = new Date(at)
  const two = (number: number) => String(number).padStart(2, '0')
  const day = `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`
  return `${day} ${two(moment.getHours())}:${two(moment.getMinutes())}`
}
