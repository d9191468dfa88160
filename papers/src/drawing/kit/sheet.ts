import type { Palette } from './palette.ts'
import { type Point, polyline, type Shape } from './shape.ts'
import { coordinate, escapeXml, identifier } from './xml.ts'

export type Ink = Exclude<keyof Palette, 'paper'>

/** What a line means, by its pattern (ISO 128-2): all lines have one weight. */
export type LineKind = 'visible' | 'hidden' | 'centre' | 'ghost'

/** How a surface is filled: a cut face is hatched, and the part beside it the other way. */
export type Fill = 'none' | 'cut' | 'cut-other' | 'cut-fine' | 'unknown' | Ink

export interface Look {
  readonly line?: LineKind | 'none'
  readonly ink?: Ink
  readonly fill?: Fill
  readonly fillOpacity?: number
  /** In stroke weights; one unless something is exaggerated on purpose. */
  readonly weight?: number
}

export interface TextLook {
  readonly ink?: Ink
  /** `figure` for numbers, `label` for words, `heading` for titles. */
  readonly face?: 'figure' | 'label' | 'heading'
  readonly anchor?: 'start' | 'middle' | 'end'
  /** In the sheet's units; 3.2 mm unless given. */
  readonly size?: number
  readonly turnDeg?: number
}

interface SheetOptions {
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

const FACES = {
  figure: "'IBM Plex Mono', monospace",
  label: "'Barlow Semi Condensed', Barlow, sans-serif",
  heading: 'Barlow, sans-serif',
} as const

/** A sheet of paper: knows ink, patterns and type, nothing of padlocks. */
export class Sheet {
  readonly width: number
  readonly height: number
  /** Stroke weight in units of the sheet. */
  readonly weight: number
  /** How far a centre line stands out over the part. */
  readonly overhang: number
  private readonly options: SheetOptions
  private readonly id: string
  private readonly marks: string[] = []
  private readonly clips: string[] = []

  constructor(options: SheetOptions) {
    this.options = options
    this.width = options.width
    this.height = options.height
    this.weight = options.unit === 'px' ? 1.1 : 0.28
    this.overhang = options.unit === 'px' ? 2.5 : 2.6
    this.id = identifier(options.prefix)
  }

  /** A view places a part on the sheet: where its origin lies and how large a millimetre is. */
  view(originX: number, originY: number, scale: number): View {
    return new View(this, originX, originY, scale)
  }

  /** Draws a shape given in units of the sheet. */
  draw(shape: Shape, { line = 'visible', ink = 'ink', fill = 'none', fillOpacity, weight = 1 }: Look = {}): void {
    const attributes = [`d="${pathData(shape)}"`, `fill="${this.fill(fill)}"`]
    if (fillOpacity !== undefined) attributes.push(`fill-opacity="${coordinate(fillOpacity)}"`)
    if (line === 'none') attributes.push('stroke="none"')
    else {
      attributes.push(`stroke="${this.options.palette[ink]}"`)
      if (weight !== 1) attributes.push(`stroke-width="${coordinate(this.weight * weight)}"`)
      const dashes = this.dashes(line)
      if (dashes !== undefined) attributes.push(`stroke-dasharray="${dashes}"`)
    }
    this.marks.push(`<path ${attributes.join(' ')}/>`)
  }

  /** Draws only what lies inside a shape, given in units of the sheet. */
  clipped(window: Shape, draw: () => void): void {
    const id = `${this.id}-window-${this.clips.length}`
    this.clips.push(`<clipPath id="${id}"><path d="${pathData(window)}"/></clipPath>`)
    this.marks.push(`<g clip-path="url(#${id})">`)
    draw()
    this.marks.push('</g>')
  }

  text(at: Point, text: string, look: TextLook = {}): void {
    this.runs(at, [{ text }], look)
  }

  /** A line of text made of runs that may be smaller, raised or lowered. */
  runs([x, y]: Point, runs: readonly TextRun[], look: TextLook = {}): void {
    const { ink = 'ink', face = 'label', anchor = 'start', size = 3.2, turnDeg = 0 } = look
    const turn = turnDeg === 0 ? '' : ` transform="rotate(${coordinate(turnDeg)} ${coordinate(x)} ${coordinate(y)})"`
    const spans = runs
      .map(({ text, share = 1, raise = 0, back = 0 }) => {
        const inner = escapeXml(text)
        if (share === 1 && raise === 0 && back === 0) return inner
        return `<tspan font-size="${coordinate(size * share)}" dx="${coordinate(-back * size)}" dy="${coordinate(-raise * size)}">${inner}</tspan>`
      })
      .join('')
    this.marks.push(
      `<text x="${coordinate(x)}" y="${coordinate(y)}" font-family="${FACES[face]}" font-size="${coordinate(size)}"` +
        // A browser knows the narrow cut by its family, the typesetter as a stretch of Barlow.
        `${face === 'heading' ? ' font-weight="600"' : face === 'label' ? ' font-stretch="semi-condensed"' : ''}` +
        ` text-anchor="${anchor}" fill="${this.options.palette[ink]}" stroke="none"${turn}>${spans}</text>`,
    )
  }

  /** The finished drawing. */
  svg(): string {
    const { width, height, unit, title, description } = this.options
    const size = unit === 'mm' ? ` width="${coordinate(width)}mm" height="${coordinate(height)}mm"` : ''
    return (
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${coordinate(width)} ${coordinate(height)}"${size} role="img"` +
      ` aria-labelledby="${this.id}-title ${this.id}-desc" fill="none" stroke-width="${this.weight}" stroke-linejoin="round">` +
      `<title id="${this.id}-title">${escapeXml(title)}</title><desc id="${this.id}-desc">${escapeXml(description)}</desc>` +
      `<defs>${this.patterns()}${this.clips.join('')}</defs>${this.marks.join('')}</svg>`
    )
  }

  private fill(fill: Fill): string {
    switch (fill) {
      case 'none':
        return 'none'
      case 'cut':
      case 'cut-other':
      case 'cut-fine':
      case 'unknown':
        return `url(#${this.id}-${fill})`
      default:
        return this.options.palette[fill]
    }
  }

  private dashes(line: LineKind): string | undefined {
    // A pictogram is small: its dashes are short, or a hidden line would be one dash.
    const unit = this.weight * (this.options.unit === 'px' ? 0.5 : 1)
    const dash = (...lengths: number[]) => lengths.map((length) => coordinate(length * unit)).join(' ')
    switch (line) {
      case 'visible':
        return undefined
      case 'hidden':
        return dash(6, 3)
      case 'centre':
        return dash(16, 4, 2, 4)
      case 'ghost':
        return dash(10, 3, 2, 3, 2, 3)
    }
  }

  private patterns(): string {
    const { mid, unknown } = this.options.palette
    const hatch = (name: string, turn: number, pitch: number, ink: string) =>
      `<pattern id="${this.id}-${name}" width="${coordinate(pitch)}" height="${coordinate(pitch)}" patternUnits="userSpaceOnUse"` +
      ` patternTransform="rotate(${turn})"><path d="M${coordinate(pitch / 2)} 0V${coordinate(pitch)}" stroke="${ink}"` +
      ` stroke-width="${coordinate(this.weight * 0.75)}"/></pattern>`
    const pitch = this.weight * 5.4
    const used = this.marks.join('')
    return [
      hatch('cut', 45, pitch, mid),
      hatch('cut-other', -45, pitch * 0.8, mid),
      hatch('cut-fine', -45, pitch * 0.45, mid),
      hatch('unknown', 45, pitch * 0.8, unknown),
    ]
      .filter((pattern) => used.includes(`url(#${/id="([^"]+)"/.exec(pattern)?.[1] ?? ''})`))
      .join('')
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

function pathData(shape: Shape): string {
  return shape
    .map((segment) => {
      switch (segment[0]) {
        case 'Z':
          return 'Z'
        case 'A': {
          const [, r, large, clockwise, x, y] = segment
          return `A${coordinate(r)} ${coordinate(r)} 0 ${large ? 1 : 0} ${clockwise ? 1 : 0} ${coordinate(x)} ${coordinate(y)}`
        }
        default:
          return `${segment[0]}${coordinate(segment[1])} ${coordinate(segment[2])}`
      }
    })
    .join('')
}
