import type { z } from 'zod'
import type { Send } from './client-people.ts'
import type { LoadStarted, MeasurementTaken, OperationBegun } from './routes/floor-schemas.ts'
import type {
  LoadListing,
  LockOfLoadListing,
  LockOrigin,
  LotListing,
  LotRecord,
  LotRelease,
  MeasurementListing,
  OperationListing,
} from './wire.ts'

/**
 * What happens to lots on the floor. Whoever records something gives it its number: sent again, it is no second time. Times are
 * ISO 8601; now, where they are left out.
 */
export interface FloorClient {
  /** Lots of an order that were opened. */
  listLots(order: string): Promise<readonly LotListing[]>
  openLot(order: string, lot: string): Promise<LotListing>
  getLot(lot: string): Promise<LotRecord>
  /** Says which heat the bars of a lot were of. */
  recordHeat(lot: string, heat: string): Promise<void>
  beginOperation(lot: string, id: string, begun: z.input<typeof OperationBegun>): Promise<OperationListing>
  endOperation(id: string, endedAt?: string): Promise<OperationListing>
  recordMeasurement(lot: string, id: string, taken: z.input<typeof MeasurementTaken>): Promise<MeasurementListing>
  /** Once a lot. */
  releaseLot(lot: string): Promise<LotRelease>
  getLoad(id: string): Promise<LoadListing>
  startLoad(id: string, started: StartedLoad): Promise<LoadListing>
  endLoad(id: string, endedAt?: string): Promise<LoadListing>
  listLocksOfLoad(id: string): Promise<readonly LockOfLoadListing[]>
  /** @param lock as its order calls it */
  getOriginOfLock(order: string, lock: string): Promise<LockOrigin>
}

type StartedLoad = Omit<z.input<typeof LoadStarted>, 'lots'> & { readonly lots: readonly string[] }

export function floorClient(send: Send): FloorClient {
  const part = encodeURIComponent
  const get = <T>(path: string) => send<T>('GET', path)
  const end = <T>(path: string, endedAt: string | undefined) =>
    send<T>('POST', path, endedAt === undefined ? {} : { endedAt })
  return {
    listLots: async (order) => (await get<{ lots: LotListing[] }>(`/api/orders/${part(order)}/lots`)).lots,
    openLot: (order, lot) => send('PUT', `/api/orders/${part(order)}/lots/${part(lot)}`),
    getLot: (lot) => get(`/api/lots/${part(lot)}`),
    recordHeat: async (lot, heat) => void (await send('POST', `/api/lots/${part(lot)}/heats`, { heat })),
    beginOperation: (lot, id, begun) => send('PUT', `/api/lots/${part(lot)}/operations/${part(id)}`, begun),
    endOperation: (id, endedAt) => end(`/api/operations/${part(id)}/end`, endedAt),
    recordMeasurement: (lot, id, taken) => send('PUT', `/api/lots/${part(lot)}/measurements/${part(id)}`, taken),
    releaseLot: (lot) => send('POST', `/api/lots/${part(lot)}/release`),
    getLoad: (id) => get(`/api/loads/${part(id)}`),
    startLoad: (id, started) => send('PUT', `/api/loads/${part(id)}`, started),
    endLoad: (id, endedAt) => end(`/api/loads/${part(id)}/end`, endedAt),
    listLocksOfLoad: async (id) => (await get<{ locks: LockOfLoadListing[] }>(`/api/loads/${part(id)}/locks`)).locks,
    getOriginOfLock: (order, lock) => get(`/api/orders/${part(order)}/locks/${part(lock)}/origin`),
  }
}
