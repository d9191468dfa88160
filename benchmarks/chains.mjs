/** `body.chain-simulation` with a million draws of the release chain, in processor time on one core. Needs a build. */
import { simulateChain, toleranceChain } from '../engine/dist/body/tolerance-chain.js'
import { quickest, seconds } from './timing.mjs'

const link = (name, nominalMm, tolerance, sensitivity) => ({
  name,
  nominalMm,
  plusMm: tolerance,
  minusMm: tolerance,
  sensitivity,
})
const chain = {
  contributors: [
    link('recess', 2.71, 0.03, 1),
    link('barrel', 14, 0.015, -0.5),
    link('ball', 8, 0.005, -1),
    link('axes', 16.9, 0.03, 1),
    link('bar', 9, 0.018, -0.5),
    link('coating', 0.036, 0.01, -1),
  ],
  limits: { minMm: 0.05 },
}
let drawn
const took = quickest(5, () => {
  drawn = simulateChain(chain, { draws: 1_000_000, seed: 1 })
})
const share = (value) => (100 * value).toFixed(3)
console.log(`1 000 000 locks of ${chain.contributors.length} contributors: ${seconds(took)}`)
console.log(`yield ${share(drawn.yield)} %, by the formula ${share(toleranceChain(chain).yield)} %`)
