import { type PlanInput, planOrder } from '@haspwright/engine'

/** Plans a whole order with tried designs, away from the page. */
addEventListener('message', async ({ data }: MessageEvent<PlanInput>) => {
  postMessage(await planOrder(data, { clock: () => performance.now() }))
})
