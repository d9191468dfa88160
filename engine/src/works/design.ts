import { z } from 'zod'
import { quenchFields } from '../heat/quench-fields.ts'
import { DEPOSIT_METALS } from '../materials/deposits.ts'
import { partMaterialField } from '../materials/part-materials.ts'
import { CHROMIUM_KINDS, SERVICE_CONDITIONS, SERVICE_TITLES } from '../materials/service-conditions.ts'
import { steelField } from '../materials/steels.ts'
import { codeRules } from '../numeric/code-rules.ts'
import { choice, count, list, percent, quantity, text } from '../quantity.ts'
import { checkDesign } from './design-checks.ts'
import { asked, coatingBand, dimension } from './dimension.ts'
import { operationSchema } from './route.ts'

const mechanism = z
  .strictObject({
    discs: count('Discs in the stack', { min: 2, max: 24 }),
    values: count('Gate positions of a disc', { min: 2, max: 12 }),
    stepDeg: quantity(null, '°', 'Angle between gate positions', { min: 1, max: 90 }),
    gateWidth: dimension('Gate width', { min: 0.2, max: 20 }),
    sidebarWidth: dimension('Sidebar width', { min: 0.1, max: 20 }),
    gateRadiusMm: quantity(null, 'mm', 'Radius at which the gate is measured', { min: 1, max: 50 }),
    gateSigmaDeg: quantity(null, '°', 'Standard deviation of the gate angle', { min: 0.001, max: 20 }),
    keyCutSigmaDeg: quantity(null, '°', 'Standard deviation of the key cut angle', { min: 0.001, max: 20 }),
    lostMotionSigmaDeg: quantity(null, '°', 'Standard deviation of lost motion', { min: 0.001, max: 20 }),
    commonSigmaDeg: quantity(null, '°', 'Standard deviation of the stop', { min: 0.001, max: 20 }),
    rockDeg: quantity(null, '°', 'Play when the key is rocked, each way', { min: 0, max: 20 }),
    discDiameterMm: quantity(null, 'mm', 'Disc diameter', { min: 3, max: 60 }),
    discThicknessMm: quantity(null, 'mm', 'Disc thickness', { min: 0.2, max: 5 }),
    spacerThicknessMm: quantity(null, 'mm', 'Spacer thickness', { min: 0, max: 5 }),
    rules: codeRules,
    minDifferingDiscs: count('Discs in which every foreign key must miss', { min: 1, max: 24 }),
    maxGatesPerDisc: count('Most gates cut into one disc', { min: 1, max: 12 }),
  })
  .meta({ title: 'Mechanism' })

const bore = (title: string) =>
  z
    .strictObject({
      diameter: dimension(`${title}, finished diameter`, { min: 1, max: 80 }),
      depthMm: quantity(null, 'mm', `${title}, depth`, { min: 1, max: 300 }),
    })
    .meta({ title })

const body = z
  .strictObject({
    barForm: text('Bar as bought', { max: 60 }),
    material: partMaterialField('Body material'),
    yieldMPa: quantity(null, 'MPa', 'Yield strength of the body, by the certificate of its bar', {
      min: 30,
      max: 3000,
      help: 'Left out: the wall behind the balls is not judged',
    }).optional(),
    widthMm: quantity(null, 'mm', 'Body width', { min: 10, max: 200 }),
    thicknessMm: quantity(null, 'mm', 'Body thickness', { min: 5, max: 100 }),
    height: dimension('Body height', { min: 10, max: 300 }),
    sawAllowanceMm: quantity(null, 'mm', 'Left for facing after the saw', { min: 0, max: 20 }),
    legAxisToBarrelAxis: dimension('Barrel axis to leg axis', { min: 4, max: 100 }),
    barrelBore: bore('Barrel bore'),
    heelBore: bore('Heel bore'),
    toeBore: bore('Toe bore'),
    crossBore: bore('Cross bore for the balls'),
    crossBoreFromTopMm: quantity(null, 'mm', 'Cross bore axis from the top face', { min: 2, max: 250 }),
  })
  .meta({ title: 'Body' })

const barrel = z
  .strictObject({
    material: partMaterialField('Barrel material'),
    diameter: dimension('Barrel diameter', { min: 3, max: 60 }),
    lengthMm: quantity(null, 'mm', 'Barrel length', { min: 5, max: 200 }),
    recessDepth: dimension('Recess depth for the balls', { min: 0.2, max: 20 }),
  })
  .meta({ title: 'Barrel' })

const plainFit = z
  .strictObject({
    name: text('Fit', { max: 60 }),
    hole: dimension('Hole or slot', { min: 0.2, max: 100 }),
    holeMaterial: partMaterialField('Material around the hole'),
    holeCoating: coatingBand('Coating laid on in the hole after it has its size').optional(),
    shaft: dimension('Shaft or key', { min: 0.2, max: 100 }),
    shaftMaterial: partMaterialField('Material of the shaft'),
    shaftCoating: coatingBand('Coating laid on the shaft after it has its size').optional(),
    clearanceMm: asked(null, 'mm', 'Clearance', { min: 0, max: 2 }),
  })
  .meta({ title: 'Plain fit' })

const shackle = z
  .strictObject({
    barForm: text('Bar as bought', { max: 60 }),
    steel: steelField('Shackle steel'),
    barDiameter: dimension('Bar diameter before plating', { min: 2, max: 40 }),
    insideWidth: dimension('Inside width between the legs', { min: 5, max: 200 }),
    heelLegMm: quantity(null, 'mm', 'Heel leg from the tangent point', { min: 5, max: 400 }),
    toeLegMm: quantity(null, 'mm', 'Toe leg from the tangent point', { min: 5, max: 400 }),
    neutralAxisFactor: quantity('k', '', 'Neutral axis from the inside, as a share of the diameter', {
      min: 0.3,
      max: 0.5,
    }),
    sawAllowanceMm: quantity(null, 'mm', 'Left for facing after the saw', { min: 0, max: 20 }),
    bending: z
      .strictObject({
        yieldMPa: quantity(String.raw`\sigma_y`, 'MPa', 'Yield strength of the bar as bent', { min: 50, max: 3000 }),
        yieldSigmaMPa: quantity(null, 'MPa', 'Its standard deviation from bar to bar', { min: 0, max: 300 }),
        elasticMPa: quantity('E', 'MPa', 'Elastic modulus', { min: 10_000, max: 400_000 }),
        reductionOfAreaPercent: percent('Z', 'Reduction of area of the bar as bent', { min: 1, max: 90 }),
        widthSigmaMm: quantity(null, 'mm', 'Scatter of the leg spacing from the press itself', { min: 0, max: 5 }),
      })
      .meta({ title: 'Bending' }),
    notch: z
      .strictObject({
        depth: dimension('Notch depth', { min: 0.2, max: 20 }),
        cutterDiameterMm: quantity(null, 'mm', 'Cutter diameter', { min: 1, max: 60 }),
        fromToeEndMm: quantity(null, 'mm', 'Notch centre from the end of the toe leg', { min: 1, max: 200 }),
        legs: choice('Legs notched', ['both', 'toe']),
      })
      .meta({ title: 'Notches' }),
  })
  .meta({ title: 'Shackle' })

const heat = z
  .strictObject({
    quenchant: quenchFields.medium,
    agitation: quenchFields.agitation,
    bathC: quantity(null, '°C', 'Temperature of the quench bath', { min: 0, max: 250 }),
    hardness: z
      .strictObject({
        minHrc: quantity(null, 'HRC', 'Least hardness', { min: 20, max: 68 }),
        maxHrc: quantity(null, 'HRC', 'Most hardness', { min: 20, max: 68 }),
        askedBy: text('Who asks for the hardness'),
      })
      .meta({ title: 'Hardness after tempering' }),
    temperC: quantity(null, '°C', 'Tempering temperature', { min: 100, max: 720 }),
    temperMinutes: quantity(null, 'min', 'Time at tempering temperature', { min: 10, max: 1440 }),
    bakeGapK: quantity(null, 'K', 'Least gap from the hydrogen bake up to the tempering temperature', {
      min: 0,
      max: 200,
    }),
  })
  .meta({ title: 'Heat treatment' })

const layer = z
  .strictObject({
    metal: choice('Metal', DEPOSIT_METALS),
    minUm: quantity(null, 'µm', 'Least thickness on significant surfaces', { min: 0.01, max: 200 }),
    meanUm: quantity(null, 'µm', 'Mean thickness aimed at', { min: 0.01, max: 200 }),
    currentDensityAPerDm2: quantity('j', 'A/dm²', 'Current density', { min: 0.1, max: 100 }),
    efficiencyPercent: percent(String.raw`\eta`, 'Cathode efficiency', { min: 1, max: 100 }),
    askedBy: text('Who asks for the thickness'),
  })
  .meta({ title: 'Layer' })

const coating = z
  .strictObject({
    layers: list('Layers, first plated first', layer, { max: 4 }),
    serviceCondition: choice('Service condition', SERVICE_CONDITIONS, SERVICE_TITLES),
    chromium: choice('Kind of chromium', CHROMIUM_KINDS),
    onShackle: coatingBand('Coating on the shackle legs'),
    inBores: coatingBand('Coating in the bores'),
    thinnestToMean: quantity(null, '', 'Thinnest spot over mean, measured on earlier loads', {
      min: 0.05,
      max: 1,
    }).optional(),
    acidSeconds: quantity(null, 's', 'Time in the acid', { min: 0, max: 1800 }),
    nickelToChromiumS: asked(null, 's', 'From nickel to chromium before the nickel goes passive', {
      min: 1,
      max: 3600,
    }).optional(),
    minutesToBake: quantity(null, 'min', 'From the last plating tank to the bake', { min: 0, max: 2880 }),
  })
  .meta({ title: 'Coating' })

const requirements = z
  .strictObject({
    coldC: quantity(null, '°C', 'Coldest use', { min: -80, max: 10 }),
    hotC: quantity(null, '°C', 'Hottest use', { min: 30, max: 150 }),
    judgeChains: choice('Clearances are judged on', ['statistical', 'worst case'], {
      statistical: 'three standard deviations',
      'worst case': 'every part at its limit',
    }),
    engagementShareOfBall: asked(null, '', 'Locked engagement as a share of the ball diameter', { min: 0, max: 0.5 }),
    jamClearanceMm: asked(null, 'mm', 'Jam clearance', { min: 0, max: 2 }),
    releaseClearanceMm: asked(null, 'mm', 'Release clearance', { min: 0, max: 2 }),
    legClearanceMm: asked(null, 'mm', 'Clearance of the leg in its bore', { min: 0, max: 2 }),
    barrelClearanceMm: asked(null, 'mm', 'Clearance of the barrel in its bore', { min: 0, max: 2 }),
    wallMm: asked(null, 'mm', 'Thinnest wall', { min: 0, max: 20 }),
    toeEntryPercent: asked(null, '%', 'Shackles whose toe enters its bore', { min: 50, max: 99.9999 }),
    lockYieldPercent: asked(null, '%', 'Locks with every chain inside its limits', {
      min: 50,
      max: 99.9999,
    }).optional(),
    differs: asked(null, '', 'Usable codes of the mechanism', { min: 1, max: 1e12 }),
    ownKey: asked(null, '', 'Chance that the own key opens', { min: 0.9, max: 0.999_999_999_999 }),
    interchange: asked(null, '', 'Chance that the nearest other key opens', { min: 1e-15, max: 0.1 }),
    pullN: asked(null, 'N', 'Pull on the shackle', { min: 0, max: 1e6 }).optional(),
    twistNm: asked(null, 'N·m', 'Twist on the shackle', { min: 0, max: 1e5 }).optional(),
    cutN: asked(null, 'N', 'Cutting force on the shackle', { min: 0, max: 1e6 }).optional(),
    saltSprayHours: asked(null, 'h', 'Neutral salt spray', { min: 0, max: 5000 }).optional(),
    impactColdC: asked(null, '°C', 'Impact at low temperature', { min: -80, max: 0 }).optional(),
  })
  .meta({ title: 'Requirements' })

/** A padlock family: everything about it that does not depend on an order. */
export const Design = z
  .strictObject({
    schema: z.literal('haspwright/design/1').meta({ title: 'File format' }),
    id: z
      .string()
      .regex(/^[A-Z0-9][A-Z0-9-]{0,15}$/)
      .meta({ title: 'Design number', description: 'Capital letters, digits and dash, at most 16, like HB50' }),
    revision: text('Revision', { max: 8 }),
    title: text('Name of the design', { max: 60 }),
    mechanism,
    body,
    barrel,
    ball: z
      .strictObject({
        material: partMaterialField('Ball material'),
        tensileMPa: quantity(null, 'MPa', 'Tensile strength of the balls as bought', {
          min: 50,
          max: 4000,
          help: 'Left out: shearing of the balls is not judged',
        }).optional(),
        diameter: dimension('Ball diameter', { min: 1, max: 30 }),
      })
      .meta({ title: 'Balls' }),
    shackle,
    fits: list('Further fits: disc in barrel, sidebar in its slot', plainFit, { min: 0, max: 12 }).optional(),
    heat,
    coating,
    requirements,
    route: list('Route, in order', operationSchema, { min: 3, max: 30 }),
  })
  .meta({
    title: 'Padlock design',
    description: 'A padlock family: mechanism, parts, materials, coatings, requirements and route.',
  })
  .superRefine(checkDesign)
export type Design = z.output<typeof Design>
