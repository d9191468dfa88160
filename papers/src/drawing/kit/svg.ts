import type { Palette } from './palette.ts'
import type { Shape } from './shape.ts'
import type { Fill, LineKind, Mark, ShapeMark, SheetOptions, TextMark } from './sheet.ts'
import { coordinate, escapeXml, identifier } from './xml.ts'

const FACES = {
  figure: "'IBM Plex Mono', monospace",
  label: "'Barlow Semi Condensed', Barlow, sans-serif",
  heading: 'Barlow, sans-serif',
} as const

/** What a sheet is drawn with: its options and the weight of its lines. */
export interface Drawn {
  readonly options: SheetOptions
  readonly weight: number
  readonly marks: readonly Mark[]
}

/** A sheet as SVG. */
export function svgOf(drawn: Drawn): string {
  const writer = new Writer(drawn)
  const body = writer.marks(drawn.marks)
  const { width, height, unit, title, description } = drawn.options
  const size = unit === 'mm' ? ` width="${coordinate(width)}mm" height="${coordinate(height)}mm"` : ''
  const id = writer.id
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${coordinate(width)} ${coordinate(height)}"${size} role="img"` +
    ` aria-labelledby="${id}-title ${id}-desc" fill="none" stroke-width="${drawn.weight}" stroke-linejoin="round">` +
    `<title id="${id}-title">${escapeXml(title)}</title><desc id="${id}-desc">${escapeXml(description)}</desc>` +
    `<defs>${writer.patterns(body)}${writer.clips.join('')}</defs>${body}</svg>`
  )
}

class Writer {
  readonly id: string
  readonly clips: string[] = []
  private readonly palette: Palette
  private readonly weight: number
  private readonly unit: SheetOptions['unit']

  constructor({ options, weight }: Drawn) {
    this.id = identifier(options.prefix)
    this.palette = options.palette
    this.weight = weight
    this.unit = options.unit
  }

  marks(marks: readonly Mark[]): string {
    return marks.map((mark) => this.mark(mark)).join('')
  }

  private mark(mark: Mark): string {
    switch (mark.kind) {
      case 'shape':
        return this.shape(mark)
      case 'text':
        return this.text(mark)
      case 'window': {
        const id = `${this.id}-window-${this.clips.length}`
        this.clips.push(`<clipPath id="${id}"><path d="${pathData(mark.window)}"/></clipPath>`)
        return `<g clip-path="url(#${id})">${this.marks(mark.marks)}</g>`
      }
    }
  }

  private shape({ shape, look }: ShapeMark): string {
    const { line = 'visible', ink = 'ink', fill = 'none', fillOpacity, weight = 1 } = look
    const attributes = [`d="${pathData(shape)}"`, `fill="${this.fill(fill)}"`]
    if (fillOpacity !== undefined) attributes.push(`fill-opacity="${coordinate(fillOpacity)}"`)
    if (line === 'none') attributes.push('stroke="none"')
    else {
      attributes.push(`stroke="${this.palette[ink]}"`)
      if (weight !== 1) attributes.push(`stroke-width="${coordinate(this.weight * weight)}"`)
      const dashes = this.dashes(line)
      if (dashes !== undefined) attributes.push(`stroke-dasharray="${dashes}"`)
    }
    return `<path ${attributes.join(' ')}/>`
  }

  private text({ at: [x, y], runs, look }: TextMark): string {
    const { ink = 'ink', face = 'label', anchor = 'start', size, turnDeg = 0 } = look
    const turn = turnDeg === 0 ? '' : ` transform="rotate(${coordinate(turnDeg)} ${coordinate(x)} ${coordinate(y)})"`
    const spans = runs
      .map(({ text, share = 1, raise = 0, back = 0 }) => {
        const inner = escapeXml(text)
        if (share === 1 && raise === 0 && back === 0) return inner
        return `<tspan font-size="${coordinate(size * share)}" dx="${coordinate(-back * size)}" dy="${coordinate(-raise * size)}">${inner}</tspan>`
      })
      .join('')
    return (
      `<text x="${coordinate(x)}" y="${coordinate(y)}" font-family="${FACES[face]}" font-size="${coordinate(size)}"` +
      // A browser knows the narrow cut by its family, the typesetter as a stretch of Barlow.
      `${face === 'heading' ? ' font-weight="600"' : face === 'label' ? ' font-stretch="semi-condensed"' : ''}` +
      ` text-anchor="${anchor}" fill="${this.palette[ink]}" stroke="none"${turn}>${spans}</text>`
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
        return this.palette[fill]
    }
  }

  private dashes(line: LineKind): string | undefined {
    // A pictogram is small: its dashes are short, or a hidden line would be one dash.
    const unit = this.weight * (this.unit === 'px' ? 0.5 : 1)
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

  /** The patterns that a drawing uses. */
  patterns(used: string): string {
    const { mid, unknown } = this.palette
    const hatch = (name: string, turn: number, pitch: number, ink: string) =>
      `<pattern id="${this.id}-${name}" width="${coordinate(pitch)}" height="${coordinate(pitch)}" patternUnits="userSpaceOnUse"` +
      ` patternTransform="rotate(${turn})"><path d="M${coordinate(pitch / 2)} 0V${coordinate(pitch)}" stroke="${ink}"` +
      ` stroke-width="${coordinate(this.weight * 0.75)}"/></pattern>`
    const pitch = this.weight * 5.4
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
