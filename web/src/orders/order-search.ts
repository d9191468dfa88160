import { analysesInAddress } from '../heat/analyses-in-address.ts'

/** What the address of an order's page says: a colleague opens the same station and the same working. */
export interface OrderSearch {
  readonly design?: string
  readonly station?: string
  readonly finding?: string
  /** Only the margins of the chosen station are listed. */
  readonly only?: true
  /** The heat's own analysis, by design. */
  readonly analysis?: Readonly<Record<string, unknown>>
}

export function readOrderSearch(search: Record<string, unknown>): OrderSearch {
  const text = (key: string) => (typeof search[key] === 'string' ? { [key]: search[key] } : {})
  return {
    ...text('design'),
    ...text('station'),
    ...text('finding'),
    ...(search['only'] === true ? { only: true } : {}),
    ...analysesInAddress(search['analysis']),
  }
}
