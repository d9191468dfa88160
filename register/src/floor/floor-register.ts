import type { WorksStore } from '../postgres/works-store.ts'
import { Genealogy } from './genealogy.ts'
import { Loads } from './loads.ts'
import { Lots } from './lots.ts'
import { Measurements } from './measurements.ts'
import { Operations } from './operations.ts'
import { Releases } from './releases.ts'

/** What happens to lots on their way from bar to box. Nothing recorded here is ever changed but by an end. */
export interface FloorRegister {
  readonly lots: Lots
  readonly loads: Loads
  readonly operations: Operations
  readonly measurements: Measurements
  readonly releases: Releases
  readonly genealogy: Genealogy
}

export function floorRegister(store: WorksStore, now: () => Date): FloorRegister {
  return {
    lots: new Lots(store, now),
    loads: new Loads(store, now),
    operations: new Operations(store, now),
    measurements: new Measurements(store, now),
    releases: new Releases(store, now),
    genealogy: new Genealogy(store),
  }
}
