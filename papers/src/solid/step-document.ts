import { getOC, localGC, type Shape3D } from 'replicad'
import type { Placement } from './lock.ts'

/** A product of a STEP file. */
export interface StepProduct {
  readonly name: string
  readonly solid: Shape3D
  /** `#rrggbb`. */
  readonly colour: string
}

/** A product used in an assembly, at its place. */
export interface StepOccurrence {
  /** `Disc 3`. */
  readonly name: string
  /** Name of the product. */
  readonly product: string
  readonly placement: Placement
}

/** Products by themselves, or an assembly that uses each of them once or more. */
export interface StepContent {
  readonly products: readonly StepProduct[]
  readonly assembly?: { readonly name: string; readonly occurrences: readonly StepOccurrence[] }
}

/**
 * The part 21 text of a product structure as the kernel writes it, schema AP242, millimetres. Each product holds its shape once; an
 * assembly refers to it by usage occurrences with a transformation each.
 *
 * @throws where an occurrence names no product
 */
export function stepText(content: StepContent): string {
  const [free, freeAll] = localGC()
  try {
    return written(documentOf(content, free), free)
  } finally {
    freeAll()
  }
}

type Kernel = ReturnType<typeof getOC>
type Document = InstanceType<Kernel['TDocStd_Document']>
/** Marks what the kernel holds for us as done with once the file is written. */
type Free = ReturnType<typeof localGC>[0]

function documentOf({ products, assembly }: StepContent, free: Free): Document {
  const oc = getOC()
  const text = (value: string) => free(new oc.TCollection_ExtendedString(value, true))
  const document = free(new oc.TDocStd_Document(text('XmlOcaf')))
  oc.XCAFDoc_ShapeTool.SetAutoNaming(false)
  const shapes = free(oc.XCAFDoc_DocumentTool.ShapeTool(document.Main()))
  const colours = free(oc.XCAFDoc_DocumentTool.ColorTool(document.Main()))
  const labels = new Map(
    products.map(({ name, solid, colour }) => {
      const label = free(shapes.NewShape())
      shapes.SetShape(label, solid.wrapped)
      oc.TDataStd_Name.Set(label, text(name))
      colours.SetColor(label, colourOf(colour, free), oc.XCAFDoc_ColorType.XCAFDoc_ColorSurf)
      return [name, label] as const
    }),
  )
  if (assembly !== undefined) {
    const whole = free(shapes.NewShape())
    oc.TDataStd_Name.Set(whole, text(assembly.name))
    for (const { name, product, placement } of assembly.occurrences) {
      const part = labels.get(product)
      if (part === undefined) throw new Error(`${name} is a copy of no product: ${product}`)
      oc.TDataStd_Name.Set(free(shapes.AddComponent(whole, part, locationOf(placement, free))), text(name))
    }
  }
  shapes.UpdateAssemblies()
  return document
}

/** Settings of the kernel's writer: curves on their surfaces too, precision of the solid, assemblies where there are any, AP242. */
const SETTINGS = {
  'write.surfacecurve.mode': 1,
  'write.precision.mode': 0,
  'write.step.assembly': 2,
  'write.step.schema': 5,
} as const
const FILE = 'written.step'

function written(document: Document, free: Free): string {
  const oc = getOC()
  free(new oc.STEPCAFControl_Writer()) // makes the settings known
  for (const unit of ['xstep.cascade.unit', 'write.step.unit']) oc.Interface_Static.SetCVal(unit, 'MM')
  const writer = free(new oc.STEPCAFControl_Writer(free(new oc.XSControl_WorkSession()), false))
  writer.SetColorMode(true)
  writer.SetNameMode(true)
  for (const [name, value] of Object.entries(SETTINGS)) oc.Interface_Static.SetIVal(name, value)
  if (!writer.Perform(document, FILE, free(new oc.Message_ProgressRange())))
    throw new Error('the kernel wrote no STEP file')
  const bytes = oc.FS.readFile(`/${FILE}`)
  oc.FS.unlink(`/${FILE}`)
  return new TextDecoder().decode(bytes)
}

/** The kernel holds light by its strength and writes it as screens show it (sRGB, IEC 61966-2-1). */
function colourOf(hex: string, free: Free) {
  const strength = (at: number) => {
    const shown = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return shown <= 0.04045 ? shown / 12.92 : ((shown + 0.055) / 1.055) ** 2.4
  }
  return free(new (getOC().Quantity_ColorRGBA)(strength(1), strength(3), strength(5), 1))
}

/** Moved first, then turned about the z axis: the shift is turned with the part. */
function locationOf({ shiftMm: [x, y, z], turnDeg }: Placement, free: Free) {
  const oc = getOC()
  const move = free(new oc.gp_Trsf())
  const angle = (turnDeg * Math.PI) / 180
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  move.SetValues(cos, -sin, 0, x * cos - y * sin, sin, cos, 0, x * sin + y * cos, 0, 0, 1, z)
  return free(new oc.TopLoc_Location(move))
}
