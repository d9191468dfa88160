import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader'

// The reader would fetch its module from the net; it is in the package.
const { buffer } = new Uint8Array(
  readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm')),
)
prepareZXingModule({ overrides: { wasmBinary: buffer } })

/** What a scanner reads from a code drawn as SVG of right-angled outlines. */
export async function scanned(svg: string): Promise<string[]> {
  const size = Number(/viewBox="0 0 (\d+) /.exec(svg)?.[1])
  const outlines = (/ d="([^"]+)"/.exec(svg)?.[1] ?? '').split('Z').filter((part) => part !== '')
  const polygons = outlines.map((part) =>
    [...part.matchAll(/(\d+) (\d+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const),
  )
  const data = new Uint8ClampedArray(size * size * 4).fill(255)
  for (let y = 0; y < size; y++)
    for (let x = 0; x < size; x++)
      if (inside(polygons, x + 0.5, y + 0.5)) data.fill(0, (y * size + x) * 4, (y * size + x) * 4 + 3)
  const found = await readBarcodes({ data, width: size, height: size, colorSpace: 'srgb' } as Parameters<
    typeof readBarcodes
  >[0])
  return found.map(({ text }) => text)
}

/** Even-odd rule over all outlines together. */
function inside(polygons: readonly (readonly (readonly [number, number])[])[], x: number, y: number): boolean {
  let crossings = 0
  for (const polygon of polygons)
    polygon.forEach(([x1, y1], i) => {
      const [x2, y2] = polygon[(i + 1) % polygon.length] ?? [x1, y1]
      if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) crossings++
    })
  return crossings % 2 === 1
}
