import type { LockMesh } from '@haspwright/server/client'
import {
  BufferAttribute,
  BufferGeometry,
  ColorManagement,
  LinearSRGBColorSpace,
  OrthographicCamera,
  Plane,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { type Box, middleOf, reachIn } from './extent.ts'
import { LockLines } from './lock-lines.ts'
import type { Look } from './look.ts'
import { type PartGeometry, PartMaterials, ScenePart } from './placed-part.ts'
import type { SectionPlane } from './section-outline.ts'
import { directionOf, FIRST_VIEW, type View, viewOf } from './views.ts'

/** What is shown of the lock. */
export interface Shown {
  /** Place on the way through the states, 0 being the first. */
  readonly along: number
  readonly section: SectionPlane | undefined
  /** Names of placed parts that are left out. */
  readonly hidden: ReadonlySet<string>
  readonly marked: string | undefined
}

/** Width of every line, in points of the screen. */
const LINE_PX = 1.3
/** How much of the picture the whole lock fills, to the side or upward, whichever is the tighter; cut open it is a seventh less. */
const FILL = 0.92
const [LEAST_ZOOM, MOST_ZOOM] = [0.5, 12]

// Colours come from the style sheet as they are meant to be seen.
ColorManagement.enabled = false

/** The lock drawn in three dimensions, without perspective, as on a drawing. Drawn anew only when something changes. */
export class LockScene {
  readonly #mesh: LockMesh
  readonly #renderer: WebGLRenderer
  readonly #scene = new Scene()
  readonly #camera = new OrthographicCamera()
  readonly #controls: OrbitControls
  readonly #plane = new Plane()
  readonly #materials = new PartMaterials()
  readonly #parts: ScenePart[]
  readonly #geometries: Map<string, PartGeometry>
  readonly #radiusMm: number
  readonly #middle = new Vector3()
  #lines: LockLines | undefined
  #shown: Shown | undefined
  #look: Look | undefined
  #aspect: number | undefined
  #reachView: View = FIRST_VIEW
  #frame: number | undefined

  /** @throws where the browser gives no WebGL */
  constructor(
    canvas: HTMLCanvasElement,
    { mesh, box, onTurned }: { mesh: LockMesh; box: Box; onTurned: (view: View) => void },
  ) {
    this.#mesh = mesh
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, stencil: true })
    this.#renderer.outputColorSpace = LinearSRGBColorSpace
    this.#renderer.localClippingEnabled = true
    // Looking for mistakes in shaders waits for each of them in turn.
    this.#renderer.debug.checkShaderErrors = false
    this.#radiusMm = new Vector3(...box.low).distanceTo(new Vector3(...box.high)) / 2
    this.#middle.set(...middleOf(box))
    this.#geometries = new Map(mesh.parts.map((part) => [part.key, geometryOf(part)]))
    this.#parts = mesh.placed.flatMap((placed, order) => {
      const geometry = this.#geometries.get(placed.part)
      return geometry === undefined ? [] : [new ScenePart(placed, geometry, { order, materials: this.#materials })]
    })
    for (const part of this.#parts) this.#scene.add(part.group, part.cap)
    this.#camera.up.set(0, 0, 1)
    this.#camera.near = 0
    this.#camera.far = 8 * this.#radiusMm
    this.#controls = this.#orbit(canvas, onTurned)
  }

  #orbit(canvas: HTMLCanvasElement, onTurned: (view: View) => void): OrbitControls {
    const controls = new OrbitControls(this.#camera, canvas)
    controls.target.copy(this.#middle)
    controls.minZoom = LEAST_ZOOM
    controls.maxZoom = MOST_ZOOM
    // The wheel scrolls the page until the view was taken in hand.
    controls.enableZoom = false
    controls.addEventListener('change', () => this.#draw())
    controls.addEventListener('end', () => onTurned(this.view))
    return controls
  }

  /** Whether wheel and pinch enlarge the part. */
  set takenInHand(taken: boolean) {
    this.#controls.enableZoom = taken
  }

  get view(): View {
    const eye = this.#camera.position.clone().sub(this.#controls.target)
    return viewOf(eye.x, eye.y, eye.z)
  }

  look(look: Look): void {
    this.#look = look
    this.#paint()
    this.#draw()
  }

  show(shown: Shown): void {
    const moved = this.#shown?.along !== shown.along
    this.#shown = shown
    if (moved) {
      for (const part of this.#parts) part.place(shown.along)
      this.#fit()
    }
    this.#cutParts()
    this.#paint()
    this.#draw()
  }

  /** Turns the eye; the point looked at comes back to the middle of the lock, and the lock fills the picture as from there. */
  turnTo(view: View): void {
    const [x, y, z] = directionOf(view)
    this.#controls.target.copy(this.#middle)
    this.#camera.position
      .set(x, y, z)
      .multiplyScalar(4 * this.#radiusMm)
      .add(this.#middle)
    this.#reachView = view
    this.#fit()
    this.#controls.update()
    this.#draw()
  }

  enlarge(by: number): void {
    this.#camera.zoom = Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, this.#camera.zoom * by))
    this.#camera.updateProjectionMatrix()
    this.#controls.update()
    this.#draw()
  }

  resize(widthPx: number, heightPx: number): void {
    if (widthPx <= 0 || heightPx <= 0) return
    const ratio = Math.min(2, devicePixelRatio)
    this.#renderer.setPixelRatio(ratio)
    this.#renderer.setSize(widthPx, heightPx, false)
    this.#aspect = widthPx / heightPx
    this.#fit()
    for (const part of this.#parts) part.setPixelRatio(ratio)
    this.#draw()
  }

  /** The picture is as wide as the lock needs in its state, from where it was last looked at; what was moved by hand stays moved. */
  #fit(): void {
    if (this.#shown === undefined || this.#aspect === undefined) return
    const { middle, asideMm, upMm } = reachIn(this.#mesh, this.#shown.along, this.#reachView)
    const moved = new Vector3(...middle).sub(this.#middle)
    for (const each of [this.#middle, this.#controls.target, this.#camera.position]) each.add(moved)
    const high = Math.max(upMm, asideMm / this.#aspect) / FILL
    const wide = high * this.#aspect
    Object.assign(this.#camera, { left: -wide, right: wide, top: high, bottom: -high })
    this.#camera.updateProjectionMatrix()
  }

  dispose(): void {
    if (this.#frame !== undefined) cancelAnimationFrame(this.#frame)
    this.#controls.dispose()
    for (const part of this.#parts) part.dispose()
    for (const { faces } of this.#geometries.values()) faces.dispose()
    this.#materials.dispose()
    this.#lines?.dispose()
    this.#renderer.dispose()
  }

  #cutParts(): void {
    if (this.#shown === undefined) return
    const { section, hidden } = this.#shown
    const left = section === undefined ? new Vector3() : leftBy(section)
    if (section !== undefined) {
      this.#plane.normal.copy(left)
      this.#plane.constant = -left.getComponent(section.axis) * section.atMm
    }
    this.#materials.cut.set(section === undefined ? undefined : this.#plane)
    for (const part of this.#parts) part.cut(section, left, !hidden.has(part.placed.name))
    this.#lines?.cut(this.#parts, this.#shown, this.#plane)
  }

  #paint(): void {
    const look = this.#look
    if (look === undefined) return
    const marked = this.#shown?.marked
    for (const part of this.#parts) part.paint(look, marked !== undefined && part.placed.name !== marked)
    this.#lines?.paint(look.ink)
  }

  /** Nothing is drawn before all is known that the first picture needs. */
  #draw(): void {
    if (this.#shown === undefined || this.#look === undefined || this.#aspect === undefined) return
    this.#frame ??= requestAnimationFrame(() => {
      this.#frame = undefined
      const mmPerPx =
        (this.#camera.top - this.#camera.bottom) /
        this.#camera.zoom /
        Math.max(1, this.#renderer.domElement.clientHeight)
      this.#lines?.scale(mmPerPx)
      this.#renderer.render(this.#scene, this.#camera)
      if (this.#lines === undefined) this.#frame = requestAnimationFrame(() => this.#addLines())
    })
  }

  #addLines(): void {
    this.#frame = undefined
    this.#lines = new LockLines(this.#parts, { cut: this.#materials.cut, widthPx: LINE_PX })
    this.#scene.add(this.#lines.outline)
    this.#cutParts()
    this.#paint()
    this.#draw()
  }
}

/** Toward what a cut leaves: it takes away the front, the left, what is above. */
function leftBy({ axis }: SectionPlane): Vector3 {
  return axis === 2 ? new Vector3(0, 0, -1) : new Vector3().setComponent(axis, 1)
}

function geometryOf(part: LockMesh['parts'][number]): PartGeometry {
  const faces = new BufferGeometry()
  faces.setAttribute('position', new BufferAttribute(part.positions, 3))
  faces.setAttribute('normal', new BufferAttribute(part.normals, 3, true))
  faces.setIndex(new BufferAttribute(part.triangles, 1))
  return { part, faces }
}
