import type { Plane, ShaderMaterial } from 'three'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { ScenePart } from './placed-part.ts'
import { placementAt } from './placement.ts'
import { type Cut, silhouetteMaterial } from './scene-materials.ts'
import { type SectionPlane, sectionOutline } from './section-outline.ts'

/** Lines of the scene in one width: edges and silhouettes of the parts, and the outline of what is cut. */
export class LockLines {
  readonly #edges: LineMaterial
  readonly #outlineInk: LineMaterial
  readonly #silhouette: ShaderMaterial
  readonly #widthPx: number
  readonly outline: LineSegments2

  constructor(parts: readonly ScenePart[], { cut, widthPx }: { cut: Cut; widthPx: number }) {
    this.#widthPx = widthPx
    this.#silhouette = silhouetteMaterial(cut)
    this.#edges = new LineMaterial({ linewidth: widthPx })
    this.#outlineInk = new LineMaterial({ linewidth: widthPx })
    this.outline = new LineSegments2(new LineSegmentsGeometry(), this.#outlineInk)
    this.outline.renderOrder = Number.MAX_SAFE_INTEGER
    const known = new Map<string, LineSegmentsGeometry>()
    for (const { geometry } of parts)
      if (!known.has(geometry.part.key))
        known.set(geometry.part.key, new LineSegmentsGeometry().setPositions(geometry.part.edges))
    for (const part of parts) {
      const edges = known.get(part.geometry.part.key)
      if (edges !== undefined) part.addLines(edges, this.#edges, this.#silhouette)
    }
  }

  cut(
    parts: readonly ScenePart[],
    { section, along }: { readonly section: SectionPlane | undefined; readonly along: number },
    plane: Plane,
  ): void {
    this.#edges.clippingPlanes = section === undefined ? null : [plane]
    const pieces =
      section === undefined
        ? []
        : parts
            .filter(({ cap }) => cap.visible)
            .flatMap(({ placed, geometry }) => sectionOutline(geometry.part, placementAt(placed, along), section))
    this.outline.geometry.dispose()
    this.outline.geometry = new LineSegmentsGeometry()
    this.outline.visible = pieces.length > 0
    if (pieces.length > 0) this.outline.geometry.setPositions(pieces)
    // A hair before the cut face, so that it is not swallowed by it.
    this.outline.position.copy(plane.normal).multiplyScalar(-0.02)
  }

  paint(ink: string): void {
    for (const each of [this.#edges, this.#outlineInk]) each.color.setStyle(ink)
    this.#silhouette.uniforms['ink']?.value.setStyle(ink)
  }

  /** Silhouettes are a width of the part, not of the screen. */
  scale(mmPerPx: number): void {
    const width = this.#silhouette.uniforms['widthMm']
    if (width !== undefined) width.value = this.#widthPx * mmPerPx
  }

  dispose(): void {
    for (const each of [this.#edges, this.#outlineInk, this.#silhouette, this.outline.geometry]) each.dispose()
  }
}
