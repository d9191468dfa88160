import type { z } from 'zod'
import type { IssueCode } from '../issue.ts'
import { limitsOf } from './dimension.ts'
import { halfNotchMm } from './notch.ts'
import { MUST_FOLLOW, operationTitles, type RouteOperation } from './route.ts'

type Context = z.core.$RefinementCtx

/** What no single field shows: parts that do not go together. All are reported, each where it can be mended. */
export function checkDesign(design: CheckedDesign, context: Context): void {
  const { mechanism, body, barrel, shackle, heat, coating } = design
  const complain = (path: PropertyKey[], message: string, allowed?: string, code: IssueCode = 'contradiction') =>
    context.addIssue({ code: 'custom', path, message, params: { code, ...(allowed === undefined ? {} : { allowed }) } })

  const sidebarAtMostMm = limitsOf(mechanism.sidebarWidth).maxMm
  if (limitsOf(mechanism.gateWidth).minMm <= sidebarAtMostMm)
    complain(
      ['mechanism', 'gateWidth', 'nominalMm'],
      'The narrowest gate must still be wider than the widest sidebar, or some own keys never open.',
      `above ${Number((sidebarAtMostMm + mechanism.gateWidth.minusMm).toFixed(4))} mm`,
    )
  const halfNotch = halfNotchMm(shackle.notch)
  if (shackle.notch.fromToeEndMm <= halfNotch)
    complain(
      ['shackle', 'notch', 'fromToeEndMm'],
      'The notch runs out of the end of the leg.',
      `above ${Number(halfNotch.toFixed(2))} mm`,
    )
  if ((mechanism.values - 1) * mechanism.stepDeg > 270)
    complain(
      ['mechanism', 'stepDeg'],
      'The gate positions do not fit on the disc: values − 1 steps may turn through 270° at most.',
      `at most ${Math.floor(2700 / (mechanism.values - 1)) / 10} °`,
    )
  if (mechanism.maxGatesPerDisc > mechanism.values)
    complain(
      ['mechanism', 'maxGatesPerDisc'],
      'A disc has no more gates than it has positions.',
      `at most ${mechanism.values}`,
    )
  if (mechanism.minDifferingDiscs > mechanism.discs)
    complain(
      ['mechanism', 'minDifferingDiscs'],
      'A key cannot miss in more discs than there are.',
      `at most ${mechanism.discs}`,
    )
  if (mechanism.discDiameterMm >= barrel.diameter.nominalMm)
    complain(
      ['mechanism', 'discDiameterMm'],
      'The discs must go into the barrel.',
      `below ${barrel.diameter.nominalMm} mm`,
    )
  const stackMm = mechanism.discs * mechanism.discThicknessMm + (mechanism.discs - 1) * mechanism.spacerThicknessMm
  if (stackMm > barrel.lengthMm)
    complain(
      ['barrel', 'lengthMm'],
      `The stack of discs and spacers is ${stackMm.toFixed(2)} mm long and does not fit.`,
      `at least ${stackMm.toFixed(2)} mm`,
    )
  if (barrel.recessDepth.nominalMm >= barrel.diameter.nominalMm / 2)
    complain(
      ['barrel', 'recessDepth', 'nominalMm'],
      'The recess would cut the barrel through.',
      `below ${barrel.diameter.nominalMm / 2} mm`,
    )
  if (shackle.notch.depth.nominalMm >= shackle.barDiameter.nominalMm / 2)
    complain(
      ['shackle', 'notch', 'depth', 'nominalMm'],
      'The notch would cut through half the leg.',
      `below ${shackle.barDiameter.nominalMm / 2} mm`,
    )
  for (const [name, depthMm] of [
    ['barrelBore', body.barrelBore.depthMm],
    ['heelBore', body.heelBore.depthMm],
    ['toeBore', body.toeBore.depthMm],
  ] as const)
    if (depthMm > body.height.nominalMm)
      complain(
        ['body', name, 'depthMm'],
        'The bore is deeper than the body is high.',
        `at most ${body.height.nominalMm} mm`,
      )
  if (2 * body.legAxisToBarrelAxis.nominalMm + body.heelBore.diameter.nominalMm >= body.widthMm)
    complain(
      ['body', 'legAxisToBarrelAxis', 'nominalMm'],
      'The shackle bores run out of the side of the body.',
      `below ${(body.widthMm - body.heelBore.diameter.nominalMm) / 2} mm`,
    )
  if (shackle.toeLegMm > shackle.heelLegMm)
    complain(
      ['shackle', 'toeLegMm'],
      'The toe leg comes out of the body, the heel leg stays: the toe must not be the longer.',
      `at most ${shackle.heelLegMm} mm`,
    )
  if (heat.hardness.minHrc > heat.hardness.maxHrc)
    complain(
      ['heat', 'hardness', 'minHrc'],
      'The least hardness is above the most.',
      `at most ${heat.hardness.maxHrc} HRC`,
    )
  for (const [name, band] of [
    ['onShackle', coating.onShackle],
    ['inBores', coating.inBores],
  ] as const)
    if (band.minUm > band.maxUm)
      complain(['coating', name, 'minUm'], 'The least thickness is above the most.', `at most ${band.maxUm} µm`)
  coating.layers.forEach((layer, i) => {
    if (layer.meanUm < layer.minUm)
      complain(
        ['coating', 'layers', i, 'meanUm'],
        'The mean aimed at is below the least asked for.',
        `at least ${layer.minUm} µm`,
      )
  })
  checkRoute(design.route, complain)
}

function checkRoute(
  route: readonly RouteOperation[],
  complain: (path: PropertyKey[], message: string, allowed?: string) => void,
): void {
  const place = new Map<string, number>()
  route.forEach(({ operation }, i) => {
    if (place.has(operation))
      complain(['route', i, 'operation'], `${operationTitles[operation]} stands in the route twice.`)
    else place.set(operation, i)
  })
  for (const [before, after, because] of MUST_FOLLOW) {
    const [first, second] = [place.get(before), place.get(after)]
    if (first !== undefined && second !== undefined && first > second)
      complain(
        ['route', second, 'operation'],
        `${operationTitles[after]} comes before ${operationTitles[before]}: ${because}.`,
        `after ${operationTitles[before]}`,
      )
  }
}

type Size = { nominalMm: number; plusMm: number; minusMm: number }

/** The part of a design that the checks look at. */
interface CheckedDesign {
  mechanism: {
    discs: number
    values: number
    stepDeg: number
    gateWidth: Size
    sidebarWidth: Size
    maxGatesPerDisc: number
    minDifferingDiscs: number
    discDiameterMm: number
    discThicknessMm: number
    spacerThicknessMm: number
  }
  body: {
    widthMm: number
    height: { nominalMm: number }
    legAxisToBarrelAxis: { nominalMm: number }
    barrelBore: { depthMm: number }
    heelBore: { depthMm: number; diameter: { nominalMm: number } }
    toeBore: { depthMm: number }
  }
  barrel: { diameter: { nominalMm: number }; lengthMm: number; recessDepth: { nominalMm: number } }
  shackle: {
    barDiameter: { nominalMm: number }
    notch: { depth: { nominalMm: number }; cutterDiameterMm: number; fromToeEndMm: number }
    toeLegMm: number
    heelLegMm: number
  }
  heat: { hardness: { minHrc: number; maxHrc: number } }
  coating: {
    onShackle: { minUm: number; maxUm: number }
    inBores: { minUm: number; maxUm: number }
    layers: { minUm: number; meanUm: number }[]
  }
  route: RouteOperation[]
}
