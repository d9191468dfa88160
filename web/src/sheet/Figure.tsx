import { formatNumber, formatQuantity } from '@haspwright/engine'

/** A figure with its unit, set as every figure is. */
export function Figure({ value, unit = '', significant }: { value: number; unit?: string; significant?: number }) {
  return <span className="figure">{formatQuantity(value, unit, significant)}</span>
}

/** A figure alone, where the unit stands in a column's head. */
export function BareFigure({ value }: { value: number }) {
  return <span className="figure">{formatNumber(value)}</span>
}
