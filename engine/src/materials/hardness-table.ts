import { source } from '../source.ts'

/** The conversion of hardness and tensile strength for unalloyed and low-alloy steel. */
export const hardnessTable = source({
  id: 'iso-18265.table-a1',
  status: 'standard',
  citation: 'ISO 18265 table A.1 = DIN 50150, conversion for unalloyed and low-alloy steel and cast steel',
  place: 'HV 90 to 650',
  note: 'Read in three public copies of DIN 50150. One misprints 1115 MPa at HV 360; the other two, and the rows beside it (1125 at 350, 1190 at 370), give 1155. One sets 20.3 HRC beside HV 245; it belongs to HV 240.',
})

/** Rows of the table: Vickers, tensile strength in MPa, Rockwell C where the scale applies. */
export const HARDNESS_ROWS: readonly (readonly [hv: number, tensileMPa: number, hrc?: number])[] = [
  [90, 285],
  [100, 320],
  [110, 350],
  [120, 385],
  [130, 415],
  [140, 450],
  [150, 480],
  [160, 510],
  [170, 545],
  [180, 575],
  [190, 610],
  [200, 640],
  [210, 675],
  [220, 705],
  [230, 740],
  [240, 770, 20.3],
  [245, 785, 21.3],
  [250, 800, 22.2],
  [255, 820, 23.1],
  [260, 835, 24],
  [265, 850, 24.8],
  [270, 865, 25.6],
  [275, 880, 26.4],
  [280, 900, 27.1],
  [285, 915, 27.8],
  [290, 930, 28.5],
  [295, 950, 29.2],
  [300, 965, 29.8],
  [310, 995, 31],
  [320, 1030, 32.2],
  [330, 1060, 33.3],
  [340, 1095, 34.4],
  [350, 1125, 35.5],
  [360, 1155, 36.6],
  [370, 1190, 37.7],
  [380, 1220, 38.8],
  [390, 1255, 39.8],
  [400, 1290, 40.8],
  [410, 1320, 41.8],
  [420, 1350, 42.7],
  [430, 1385, 43.6],
  [440, 1420, 44.5],
  [450, 1455, 45.3],
  [460, 1485, 46.1],
  [470, 1520, 46.9],
  [480, 1555, 47.7],
  [490, 1595, 48.4],
  [500, 1630, 49.1],
  [510, 1665, 49.8],
  [520, 1700, 50.5],
  [530, 1740, 51.1],
  [540, 1775, 51.7],
  [550, 1810, 52.3],
  [560, 1845, 53],
  [570, 1880, 53.6],
  [580, 1920, 54.1],
  [590, 1955, 54.7],
  [600, 1995, 55.2],
  [610, 2030, 55.7],
  [620, 2070, 56.3],
  [630, 2105, 56.8],
  [640, 2145, 57.3],
  [650, 2180, 57.8],
]

type Curve = readonly (readonly [number, number])[]
const TENSILE_BY_HV: Curve = HARDNESS_ROWS.map(([hv, tensileMPa]) => [hv, tensileMPa])
const HRC_BY_HV: Curve = HARDNESS_ROWS.flatMap(([hv, , hrc]) => (hrc === undefined ? [] : [[hv, hrc] as const]))
const flip = (curve: Curve): Curve => curve.map(([x, y]) => [y, x])

/** Ends of each column, for whoever states a range. */
export const HARDNESS_RANGE = { hv: [90, 650], hrc: [20.3, 57.8], tensileMPa: [285, 2180] } as const

/** Linear between the rows of a rising table; `undefined` outside it, never extrapolated. */
function between(curve: Curve, x: number): number | undefined {
  const above = curve.findIndex(([at]) => at >= x)
  const [x1, y1] = curve[above] ?? [Number.NaN, Number.NaN]
  if (x === x1) return y1
  const [x0, y0] = curve[above - 1] ?? [Number.NaN, Number.NaN]
  const y = y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
  return Number.isNaN(y) ? undefined : y
}

/** Vickers hardness of a Rockwell C hardness; `undefined` outside 20.3 to 57.8 HRC. ISO 18265 table A.1, linear between rows. */
export const hvFromHrc = (hrc: number): number | undefined => between(flip(HRC_BY_HV), hrc)

/** Rockwell C hardness of a Vickers hardness; `undefined` outside 240 to 650 HV. ISO 18265 table A.1, linear between rows. */
export const hrcFromHv = (hv: number): number | undefined => between(HRC_BY_HV, hv)

/** Tensile strength in MPa of a Vickers hardness; `undefined` outside 90 to 650 HV. ISO 18265 table A.1, linear between rows. */
export const tensileFromHv = (hv: number): number | undefined => between(TENSILE_BY_HV, hv)

/** Vickers hardness of a tensile strength in MPa; `undefined` outside 285 to 2180 MPa. ISO 18265 table A.1, linear between rows. */
export const hvFromTensile = (tensileMPa: number): number | undefined => between(flip(TENSILE_BY_HV), tensileMPa)

/** Tensile strength in MPa of a Rockwell C hardness; `undefined` outside 20.3 to 57.8 HRC. An estimate, as every conversion. */
export function tensileFromHrc(hrc: number): number | undefined {
  const hv = hvFromHrc(hrc)
  return hv === undefined ? undefined : tensileFromHv(hv)
}

/** Rockwell C hardness of a tensile strength in MPa; `undefined` outside 770 to 2180 MPa. An estimate, as every conversion. */
export function hrcFromTensile(tensileMPa: number): number | undefined {
  const hv = hvFromTensile(tensileMPa)
  return hv === undefined ? undefined : hrcFromHv(hv)
}
