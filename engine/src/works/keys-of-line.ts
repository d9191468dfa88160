import { locksUnder, type MasterGroup, type Order, type OrderLine } from './order.ts'

/** Different keys a line needs, masters included: as many codes as must be given out for it. */
export function codesOfLine({ keying, quantity }: OrderLine): number {
  switch (keying.kind) {
    case 'different':
      return quantity
    case 'alike':
      return keying.groups.length
    case 'master':
      return locksUnder(keying.master) + mastersIn(keying.master)
    case 'chart':
      return keying.keys.length
    case 'replacement':
      return 0
  }
}

/** Codes an order needs of one design. */
export function codesOf({ lines }: Order, design: string): number {
  return lines.filter((line) => line.design === design).reduce((total, line) => total + codesOfLine(line), 0)
}

/** Master keys of a group and the groups under it, each counted once. */
export function mastersIn({ groups = [] }: MasterGroup): number {
  return groups.reduce((total, group) => total + mastersIn(group), 1)
}
