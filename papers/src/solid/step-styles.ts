interface Entity {
  readonly kind: string
  readonly given: string
}

/**
 * The colours of a STEP text in the order of their solids. The kernel writes them last, in the order in which the solids happen to lie in
 * its memory: equal designs would give unequal files.
 */
export function withStylesInOrder(text: string): string {
  const start = text.search(/#\d+ = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION/)
  if (start === -1) return text
  const end = text.indexOf('ENDSEC;', start)
  const entities = new Map(
    [...text.slice(start, end).matchAll(/#(\d+) = ([A-Z0-9_]+)\(([\s\S]*?)\);/g)].map(
      ([, id, kind = '', given = '']): [number, Entity] => [Number(id), { kind, given }],
    ),
  )
  const styles = [...entities.values()].filter(({ kind }) => kind.startsWith('MECHANICAL')).map(styleOf(entities))
  let id = Math.min(...entities.keys())
  const written = styles
    .sort((a, b) => a.solid - b.solid)
    .map((style) => {
      const lines = styleLines(style, id)
      id += lines.length
      return `${lines.join('\n')}\n`
    })
  return text.slice(0, start) + written.join('') + text.slice(end)
}

interface Style {
  readonly solid: number
  readonly context: number
  readonly colour: Entity
}

const referencesOf = ({ given }: Entity) => [...given.matchAll(/#(\d+)/g)].map(([, id]) => Number(id))

function styleOf(entities: ReadonlyMap<number, Entity>) {
  return (representation: Entity): Style => {
    const [item = 0, context = 0] = referencesOf(representation)
    const styled = entities.get(item)
    const solid = styled === undefined ? undefined : referencesOf(styled)[1]
    // Each entity of the nest names the next one first; the colour itself names none.
    let colour = styled
    while (colour !== undefined && referencesOf(colour).length > 0) colour = entities.get(referencesOf(colour)[0] ?? 0)
    if (colour === undefined || solid === undefined) throw new Error('a style in the STEP text colours nothing')
    return { solid, context, colour }
  }
}

/** From the representation down to the colour of both sides of every face, as ISO 10303-46 nests them. */
function styleLines({ solid, context, colour: { kind, given } }: Style, first: number): string[] {
  const next = (steps: number) => `#${first + steps}`
  return [
    `MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(${next(1)}),#${context})`,
    `STYLED_ITEM('color',(${next(2)}),#${solid})`,
    `PRESENTATION_STYLE_ASSIGNMENT((${next(3)}))`,
    `SURFACE_STYLE_USAGE(.BOTH.,${next(4)})`,
    `SURFACE_SIDE_STYLE('',(${next(5)}))`,
    `SURFACE_STYLE_FILL_AREA(${next(6)})`,
    `FILL_AREA_STYLE('',(${next(7)}))`,
    `FILL_AREA_STYLE_COLOUR('',${next(8)})`,
    `${kind}(${given})`,
  ].map((entity, i) => `${next(i)} = ${entity};`)
}
