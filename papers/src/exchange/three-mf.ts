import { strToU8, zipSync } from 'fflate'
import { escapeXml } from '../drawing/kit/xml.ts'
import type { Triangles } from './triangles.ts'

/** A body of a 3MF file, and where copies of it stand. */
export interface PrintedObject extends Triangles {
  readonly name: string
  readonly partNumber: string
  /** Each a shift, then a turn about z; one copy in place unless given. */
  readonly copies?: readonly { readonly turnDeg: number; readonly shiftMm: readonly [number, number, number] }[]
}

const CONTENT_TYPES =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">' +
  '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>' +
  '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
const RELATIONSHIPS =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">' +
  '<Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'

/** Zip holds times to two seconds from 1980 on; a fixed one makes equal parts equal files. */
const FIXED_TIME = new Date(1980, 0, 1)

/** A 3MF package (core specification 1.x): parts as triangles in mm. */
export function threeMf(objects: readonly PrintedObject[], { title }: { title: string }): Uint8Array {
  return zipSync(
    {
      '[Content_Types].xml': strToU8(CONTENT_TYPES),
      '_rels/.rels': strToU8(RELATIONSHIPS),
      '3D/3dmodel.model': strToU8(modelXml(objects, title)),
    },
    { mtime: FIXED_TIME },
  )
}

function modelXml(objects: readonly PrintedObject[], title: string): string {
  const resources = objects.map(objectXml).join('')
  const items = objects
    .flatMap(({ copies = [{ turnDeg: 0, shiftMm: [0, 0, 0] }] }, i) =>
      copies.map((copy) => `<item objectid="${i + 1}" transform="${transform(copy)}"/>`),
    )
    .join('')
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">' +
    `<metadata name="Title">${escapeXml(title)}</metadata><metadata name="Application">Haspwright</metadata>` +
    `<resources>${resources}</resources><build>${items}</build></model>`
  )
}

function objectXml({ name, partNumber, corners, triangles }: PrintedObject, index: number): string {
  const vertices = corners.map(([x, y, z]) => `<vertex x="${short(x)}" y="${short(y)}" z="${short(z)}"/>`).join('')
  const faces = triangles.map(([a, b, c]) => `<triangle v1="${a}" v2="${b}" v3="${c}"/>`).join('')
  return (
    `<object id="${index + 1}" type="model" name="${escapeXml(name)}" partnumber="${escapeXml(partNumber)}">` +
    `<mesh><vertices>${vertices}</vertices><triangles>${faces}</triangles></mesh></object>`
  )
}

/** 3MF multiplies rows: the first three rows are the axes, the last is the shift. */
function transform({ turnDeg, shiftMm }: NonNullable<PrintedObject['copies']>[number]): string {
  const angle = (turnDeg * Math.PI) / 180
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const [x, y, z] = shiftMm
  const moved = [x * c - y * s, x * s + y * c, z] // shifted first, then turned
  return [c, s, 0, -s, c, 0, 0, 0, 1, ...moved].map(short).join(' ')
}

/** To a millionth of a millimetre, without exponents. */
const short = (value: number) => String(Number(value.toFixed(6)) || 0)
