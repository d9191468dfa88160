import type { Design, DesignDemand, Works } from '@haspwright/engine'
import { influences } from './influence.ts'

/** Tries every figure of a design, away from the page. */
addEventListener('message', ({ data }: MessageEvent<{ design: Design; works: Works; demand: DesignDemand }>) => {
  postMessage(influences(data.design, data.works, data.demand))
})
