import { type Lettering, letteringOf } from './lettering.ts'
import type { Palette } from './palette.ts'
import { type Point, polyline, type Shape } from './shape.ts'
import { svgOf } from './svg.ts'

export type Ink = Exclude<keyof Palette, 'paper'>

/** What a line means, by its pattern (ISO 128-2): all lines have one weight. */
export type LineKind = 'visible' | 'hidden' | 'centre' | 'ghost'

/** A line that measures or explains, or belongs to the sheet itself. */
export type LineRole = 'dimension' | 'frame'

/** How a surface is filled: a cut face is hatched, and the part beside it the other way. */
export type Fill = 'none' | 'cut' | 'cut-other' | 'cut-fine' | 'unknown' | Ink

export interface Look {
  readonly line?: LineKind | 'none'
  readonly ink?: Ink
  readonly fill?: Fill
  readonly fillOpacity?: number
  /** In stroke weights; one unless something is exaggerated on purpose. */
  readonly weight?: number
  /** What a line is for where it is no edge of a part. */
  readonly role?: LineRole
}

export interface TextLook {
  readonly ink?: Ink
  /** `figure` for numbers, `label` for words, `heading` for titles. */
  readonly face?: 'figure' | 'label' | 'heading'
  readonly anchor?: 'start' | 'middle' | 'end'
  /** In the sheet's units; as notes of the sheet are written unless given. */
  readonly size?: number
  readonly turnDeg?: number
  readonly role?: LineRole
}

export interface SheetOptions {
  readonly width: number
  readonly height: number
  /** What a unit of the sheet is: a pixel of a pictogram, or a millimetre of paper. */
  readonly unit: 'px' | 'mm'
  readonly palette: Palette
  /** Makes identifiers unique where several drawings stand in one page. */
  readonly prefix: string
  readonly title: string
  readonly description: string
}

/** What stands on a sheet, in the order it was drawn: later marks cover earlier ones where they are filled. */
export type Mark = ShapeMark | TextMark | WindowMark
export interface ShapeMark {
  readonly kind: 'shape'
  readonly shape: Shape
  readonly look: Look
}
export interface TextMark {
  readonly kind: 'text'
  readonly at: Point
  readonly runs: readonly TextRun[]
  readonly look: TextLook & { readonly size: number }
}
/** Marks of which only what lies inside a shape is seen. */
export interface WindowMark {
  readonly kind: 'window'
  readonly window: Shape
  readonly marks: readonly Mark[]
}

/** A sheet of paper: knows ink, patterns and type, nothing of padlocks. */
export class Sheet {
  readonly width: number
  readonly height: number
  /** Stroke weight in units of the sheet. */
  readonly weight: number
  /** How far a centre line stands out over the part. */
  readonly overhang: number
  /** Sizes of type. */
  readonly lettering: Lettering
  readonly options: SheetOptions
  private drawn: Mark[] = []

  constructor(options: SheetOptions) {
    this.options = options
    this.width = options.width
    this.height = options.height
    this.weight = options.unit === 'px' ? 1.1 : 0.28
    this.overhang = options.unit === 'px' ? 2.5 : 2.6
    this.lettering = letteringOf(options)
  }

  /** Everything drawn so far: what any file format is written from. */
  get marks(): readonly Mark[] {
    return this.drawn
  }

  /** A view places a part on the sheet: where its origin lies and how large a millimetre is. */
  view(originX: number, originY: number, scale: number): View {
    return new View(this, originX, originY, scale)
  }

  /** Draws a shape given in units of the sheet. */
  draw(shape: Shape, look: Look = {}): void {
    this.drawn.push({ kind: 'shape', shape, look })
  }

  /** Draws only what lies inside a shape, given in units of the sheet. */
  clipped(window: Shape, draw: () => void): void {
    const before = this.drawn
    this.drawn = []
    draw()
    before.push({ kind: 'window', window, marks: this.drawn })
    this.drawn = before
  }

  text(at: Point, text: string, look: TextLook = {}): void {
    this.runs(at, [{ text }], look)
  }

  /** A line of text made of runs that may be smaller, raised or lowered. */
  runs(at: Point, runs: readonly TextRun[], look: TextLook = {}): void {
    this.drawn.push({ kind: 'text', at, runs, look: { size: this.lettering.note, ...look } })
  }

  /** The finished drawing. */
  svg(): string {
    return svgOf(this)
  }
}

export interface TextRun {
  readonly text: string
  /** Size as a share of the line's. */
  readonly share?: number
  /** Raised against the run before, in sizes of the line. */
  readonly raise?: number
  /** Moved back over the run before, in sizes of the line. */
  readonly back?: number
}

/** A part on a sheet: takes millimetres of the part, draws in units of the sheet. */
export class View {
  readonly sheet: Sheet
  readonly scale: number
  private readonly originX: number
  private readonly originY: number

  constructor(sheet: Sheet, originX: number, originY: number, scale: number) {
    this.sheet = sheet
    this.scale = scale
    this.originX = originX
    this.originY = originY
  }

  draw(shape: Shape, look?: Look): void {
    this.sheet.draw(
      shape.map((segment) => {
        switch (segment[0]) {
          case 'Z':
            return segment
          case 'A': {
            const [x, y] = this.at([segment[4], segment[5]])
            return ['A', segment[1] * this.scale, segment[2], segment[3], x, y] as const
          }
          default:
            return [segment[0], ...this.at([segment[1], segment[2]])] as const
        }
      }),
      look,
    )
  }

  /** A centre line that stands out over the part at both ends. */
  centreLine([x1, y1]: Point, [x2, y2]: Point, look: Look = {}): void {
    const length = Math.hypot(x2 - x1, y2 - y1)
    const over = this.sheet.overhang / this.scale
    const [dx, dy] = length === 0 ? [0, 0] : [((x2 - x1) / length) * over, ((y2 - y1) / length) * over]
    this.draw(
      polyline([
        [x1 - dx, y1 - dy],
        [x2 + dx, y2 + dy],
      ]),
      { line: 'centre', ink: 'mid', ...look },
    )
  }

  /** Where a point of the part lies on the sheet. */
  at([x, y]: Point): Point {
    return [this.originX + x * this.scale, this.originY + y * this.scale]
  }
}
