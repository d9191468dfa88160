import type { MeshPart, PlacedMesh } from '@haspwright/server/client'
import {
  AlwaysStencilFunc,
  BackSide,
  Box3,
  type BufferGeometry,
  DecrementWrapStencilOp,
  FrontSide,
  Group,
  IncrementWrapStencilOp,
  MathUtils,
  Mesh,
  NotEqualStencilFunc,
  PlaneGeometry,
  ReplaceStencilOp,
  type ShaderMaterial,
  Vector3,
} from 'three'
import type { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import type { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { Look } from './look.ts'
import { placementAt } from './placement.ts'
import { Cut, countingMaterial, hatchMaterial, surfaceMaterial } from './scene-materials.ts'
import type { SectionPlane } from './section-outline.ts'

/** Surfaces are drawn after all cut faces, lines after the surfaces. */
const SURFACES = 1000

/** What a part is drawn with, shared by all parts of its kind. */
export interface PartGeometry {
  readonly part: MeshPart
  readonly faces: BufferGeometry
}

/** What all parts of a scene are drawn with. */
export class PartMaterials {
  readonly cut = new Cut()
  readonly counters: readonly ShaderMaterial[] = [counting(this.cut, BackSide), counting(this.cut, FrontSide)]
  readonly square = new PlaneGeometry(1, 1)

  dispose(): void {
    for (const each of [...this.counters, this.square]) each.dispose()
  }
}

/** A part of the lock in the scene: surface, silhouette, edges, and the face where it is cut. */
export class ScenePart {
  readonly placed: PlacedMesh
  readonly geometry: PartGeometry
  readonly group = new Group()
  readonly cap: Mesh<PlaneGeometry, ShaderMaterial>
  readonly #surface: ShaderMaterial
  readonly #counters: Mesh[]
  readonly #box = new Box3()
  #edges: LineSegments2 | undefined

  /** @param order place in the order of drawing: each part's cut face is made before the next part is counted */
  constructor(
    placed: PlacedMesh,
    geometry: PartGeometry,
    { order, materials }: { order: number; materials: PartMaterials },
  ) {
    this.placed = placed
    this.geometry = geometry
    this.#surface = surfaceMaterial(materials.cut)
    const skin = new Mesh(geometry.faces, this.#surface)
    skin.renderOrder = SURFACES
    this.#counters = materials.counters.map((material) => {
      const mesh = new Mesh(geometry.faces, material)
      mesh.renderOrder = order
      return mesh
    })
    this.cap = capOf(order, materials.square)
    this.group.add(skin, ...this.#counters)
  }

  /** Lines come after the first picture: without them the lock is seen sooner. */
  addLines(edges: LineSegmentsGeometry, ink: LineMaterial, silhouette: ShaderMaterial): void {
    this.#edges = new LineSegments2(edges, ink)
    this.#edges.renderOrder = SURFACES + 1
    const outline = new Mesh(this.geometry.faces, silhouette)
    outline.renderOrder = SURFACES
    this.group.add(this.#edges, outline)
  }

  place(along: number): void {
    const { shiftMm, turnDeg } = placementAt(this.placed, along)
    const turn = MathUtils.degToRad(turnDeg)
    const [dx, dy, dz] = shiftMm
    this.group.position.set(dx * Math.cos(turn) - dy * Math.sin(turn), dx * Math.sin(turn) + dy * Math.cos(turn), dz)
    this.group.rotation.z = turn
    this.group.updateMatrixWorld()
    this.geometry.faces.computeBoundingBox()
    const { boundingBox } = this.geometry.faces
    if (boundingBox !== null) this.#box.copy(boundingBox).applyMatrix4(this.group.matrixWorld)
  }

  /**
   * Shows what a cut leaves of the part: where the plane does not meet it nothing has to be counted, and where it is cut away it is not
   * drawn.
   *
   * @param left square to the cut, toward what it leaves
   */
  cut(section: SectionPlane | undefined, left: Vector3, isShown: boolean): void {
    const [low, high, at] =
      section === undefined
        ? [0, 0, 0]
        : [this.#box.min.getComponent(section.axis), this.#box.max.getComponent(section.axis), section.atMm]
    const isMet = section !== undefined && low < at && at < high
    const isAway = section !== undefined && !isMet && (left.getComponent(section.axis) > 0 ? high <= at : low >= at)
    this.group.visible = isShown && !isAway
    for (const each of this.#counters) each.visible = isMet
    this.cap.visible = isShown && isMet
    if (section === undefined || !this.cap.visible) return
    this.#box.getCenter(this.cap.position).setComponent(section.axis, at)
    this.cap.lookAt(this.cap.position.clone().sub(left))
    // As wide as the part is across the plane, however the square is turned in it.
    const size = this.#box.getSize(new Vector3()).setComponent(section.axis, 0).length()
    this.cap.scale.set(size, size, 1)
  }

  /** @param standsBack another part is marked, and this one is left as lines */
  paint(look: Look, standsBack: boolean): void {
    const paper = look.flat || standsBack ? look.sheet : toneOf(this.geometry.part, look)
    const { tone, flatness } = this.#surface.uniforms
    tone?.value.setStyle(paper)
    if (flatness !== undefined) flatness.value = look.flat || standsBack ? 1 : 0
    const { paper: onCut, ink } = this.cap.material.uniforms
    onCut?.value.setStyle(paper)
    ink?.value.setStyle(look.hatch)
  }

  setPixelRatio(ratio: number): void {
    const { pixelRatio } = this.cap.material.uniforms
    if (pixelRatio !== undefined) pixelRatio.value = ratio
  }

  dispose(): void {
    this.#surface.dispose()
    this.cap.material.dispose()
    this.#edges?.geometry.dispose()
  }
}

function toneOf({ material }: MeshPart, look: Look): string {
  if (material === undefined) return look.plain
  return material.startsWith('CuZn') ? look.brass : look.steel
}

/** Counts the skins behind each point of the picture that the cut has left: where more go in than out, the part is cut there. */
function counting(cut: Cut, side: typeof BackSide | typeof FrontSide): ShaderMaterial {
  const operation = side === BackSide ? IncrementWrapStencilOp : DecrementWrapStencilOp
  return countingMaterial(cut, {
    side,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilFail: operation,
    stencilZFail: operation,
    stencilZPass: operation,
  })
}

/** Hatches where something was counted, and sets the count back to nothing for the next part. */
function capOf(order: number, square: PlaneGeometry): Mesh<PlaneGeometry, ShaderMaterial> {
  const material = hatchMaterial({ lean: order % 2 === 0 ? 1 : -1, spacingPx: [7, 5.5, 9][order % 3] ?? 7 })
  material.stencilWrite = true
  material.stencilRef = 0
  material.stencilFunc = NotEqualStencilFunc
  material.stencilFail = ReplaceStencilOp
  material.stencilZFail = ReplaceStencilOp
  material.stencilZPass = ReplaceStencilOp
  const cap = new Mesh(square, material)
  cap.renderOrder = order + 0.5
  return cap
}
