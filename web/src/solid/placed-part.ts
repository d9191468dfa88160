import type { MeshPart, PlacedMesh } from '@haspwright/server/client'
import {
  AlwaysStencilFunc,
  BackSide,
  type BufferGeometry,
  DecrementWrapStencilOp,
  FrontSide,
  Group,
  IncrementWrapStencilOp,
  MathUtils,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  NotEqualStencilFunc,
  type Plane,
  PlaneGeometry,
  ReplaceStencilOp,
  type ShaderMaterial,
  type WebGLRenderer,
} from 'three'
import type { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import type { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { Look } from './look.ts'
import { placementAt } from './placement.ts'
import { hatchMaterial } from './scene-materials.ts'

/** Surfaces are drawn after all cut faces, lines after the surfaces. */
const SURFACES = 1000

/** What a part is drawn with, shared by all parts of its kind. */
export interface PartGeometry {
  readonly part: MeshPart
  readonly faces: BufferGeometry
  readonly edges: LineSegmentsGeometry
}

/** A part of the lock in the scene: surface, silhouette, edges, and the face where it is cut. */
export class ScenePart {
  readonly placed: PlacedMesh
  readonly geometry: PartGeometry
  readonly group = new Group()
  readonly cap: Mesh<PlaneGeometry, ShaderMaterial>
  readonly #surface: MeshLambertMaterial
  readonly #surfaceMesh: Mesh
  readonly #counters: Mesh[]
  readonly #planes: Plane[]

  constructor(
    placed: PlacedMesh,
    geometry: PartGeometry,
    {
      order,
      planes,
      silhouette,
      ink,
      capSizeMm,
    }: {
      /** Place in the order of drawing: each part's cut face is made before the next part is counted. */
      order: number
      planes: Plane[]
      silhouette: ShaderMaterial
      ink: LineMaterial
      capSizeMm: number
    },
  ) {
    this.placed = placed
    this.geometry = geometry
    this.#planes = planes
    this.#surface = new MeshLambertMaterial({ polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 })
    this.#surfaceMesh = new Mesh(geometry.faces, this.#surface)
    const outline = new Mesh(geometry.faces, silhouette)
    const edges = new LineSegments2(geometry.edges, ink)
    this.#counters = [
      counter(geometry.faces, BackSide, planes, order),
      counter(geometry.faces, FrontSide, planes, order),
    ]
    this.cap = capOf(order, capSizeMm)
    this.#surfaceMesh.renderOrder = SURFACES
    outline.renderOrder = SURFACES
    edges.renderOrder = SURFACES + 1
    this.group.add(this.#surfaceMesh, outline, edges, ...this.#counters)
  }

  place(along: number): void {
    const { shiftMm, turnDeg } = placementAt(this.placed, along)
    const turn = MathUtils.degToRad(turnDeg)
    const [dx, dy, dz] = shiftMm
    this.group.position.set(dx * Math.cos(turn) - dy * Math.sin(turn), dx * Math.sin(turn) + dy * Math.cos(turn), dz)
    this.group.rotation.z = turn
  }

  cut(isCut: boolean): void {
    this.#surface.clippingPlanes = isCut ? this.#planes : null
    for (const each of this.#counters) each.visible = isCut
    this.cap.visible = isCut && this.group.visible
  }

  /** @param standsBack another part is marked, and this one is left as lines */
  paint(look: Look, standsBack: boolean): void {
    const tone = standsBack ? look.sheet : toneOf(this.geometry.part, look)
    this.#surface.color.setStyle(look.flat || standsBack ? '#000' : tone)
    // Without shading the tone shines by itself.
    this.#surface.emissive.setStyle(look.flat ? look.sheet : standsBack ? tone : '#000')
    const { paper, ink } = this.cap.material.uniforms
    paper?.value.setStyle(look.flat || standsBack ? look.sheet : tone)
    ink?.value.setStyle(look.hatch)
  }

  setPixelRatio(ratio: number): void {
    const { pixelRatio } = this.cap.material.uniforms
    if (pixelRatio !== undefined) pixelRatio.value = ratio
  }

  dispose(): void {
    this.#surface.dispose()
    this.cap.material.dispose()
    this.cap.geometry.dispose()
    for (const each of this.#counters) (each.material as MeshBasicMaterial).dispose() // counter() made it
  }
}

function toneOf({ material }: MeshPart, look: Look): string {
  if (material === undefined) return look.plain
  return material.startsWith('CuZn') ? look.brass : look.steel
}

/** Counts the skins behind each point of the picture that the cut has left: where more go in than out, the part is cut there. */
function counter(faces: BufferGeometry, side: typeof BackSide | typeof FrontSide, planes: Plane[], order: number) {
  const operation = side === BackSide ? IncrementWrapStencilOp : DecrementWrapStencilOp
  const mesh = new Mesh(
    faces,
    new MeshBasicMaterial({
      side,
      clippingPlanes: planes,
      colorWrite: false,
      depthWrite: false,
      depthTest: false,
      stencilWrite: true,
      stencilFunc: AlwaysStencilFunc,
      stencilFail: operation,
      stencilZFail: operation,
      stencilZPass: operation,
    }),
  )
  mesh.renderOrder = order
  return mesh
}

function capOf(order: number, sizeMm: number): Mesh<PlaneGeometry, ShaderMaterial> {
  const material = hatchMaterial({ lean: order % 2 === 0 ? 1 : -1, spacingPx: [7, 5.5, 9][order % 3] ?? 7 })
  material.stencilWrite = true
  material.stencilRef = 0
  material.stencilFunc = NotEqualStencilFunc
  material.stencilFail = ReplaceStencilOp
  material.stencilZFail = ReplaceStencilOp
  material.stencilZPass = ReplaceStencilOp
  const cap = new Mesh(new PlaneGeometry(sizeMm, sizeMm), material)
  cap.renderOrder = order + 0.5
  cap.onAfterRender = (renderer) => (renderer as WebGLRenderer).clearStencil()
  return cap
}
