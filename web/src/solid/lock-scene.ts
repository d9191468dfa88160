import type { LockMesh } from '@haspwright/server/client'
import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  ColorManagement,
  DirectionalLight,
  LinearSRGBColorSpace,
  OrthographicCamera,
  Plane,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { LineMaterial } from 'three/addons/lines/LineMaterial.js'
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js'
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js'
import type { Look } from './look.ts'
import { type PartGeometry, ScenePart } from './placed-part.ts'
import { type Box, placementAt } from './placement.ts'
import { silhouetteMaterial } from './scene-materials.ts'
import { type SectionPlane, sectionOutline } from './section-outline.ts'
import { directionOf, type View, viewOf } from './views.ts'

/** What is shown of the lock. */
export interface Shown {
  /** Place on the way through the states, 0 being the first. */
  readonly along: number
  readonly section: SectionPlane | undefined
  /** Names of placed parts that are left out. */
  readonly hidden: ReadonlySet<string>
  readonly marked: string | undefined
}

const LINE_PX = 1.3
/** How much of the ball round the lock in all its states is in the picture: its corners hold no part of the lock. */
const AIR = 0.98
const [LEAST_ZOOM, MOST_ZOOM] = [0.5, 12]

// Colours come from the style sheet as they are meant to be seen.
ColorManagement.enabled = false

/** The lock drawn in three dimensions, without perspective, as on a drawing. Drawn anew only when something changes. */
export class LockScene {
  readonly #renderer: WebGLRenderer
  readonly #scene = new Scene()
  readonly #camera = new OrthographicCamera()
  readonly #controls: OrbitControls
  readonly #light = new DirectionalLight('#fff', 0.5 * Math.PI)
  readonly #plane = new Plane()
  readonly #parts: ScenePart[]
  readonly #geometries: Map<string, PartGeometry>
  readonly #silhouette = silhouetteMaterial()
  readonly #ink = new LineMaterial({ linewidth: LINE_PX })
  readonly #outlineInk = new LineMaterial({ linewidth: LINE_PX })
  readonly #outline = new LineSegments2(new LineSegmentsGeometry(), this.#outlineInk)
  readonly #middle: Vector3
  readonly #radiusMm: number
  #shown: Shown = { along: 0, section: undefined, hidden: new Set(), marked: undefined }
  #look: Look | undefined
  #frame: number | undefined

  /** @throws where the browser gives no WebGL */
  constructor(
    canvas: HTMLCanvasElement,
    { mesh, box: { low, high }, onTurned }: { mesh: LockMesh; box: Box; onTurned: (view: View) => void },
  ) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, stencil: true })
    this.#renderer.outputColorSpace = LinearSRGBColorSpace
    this.#renderer.localClippingEnabled = true
    const [lowCorner, highCorner] = [new Vector3(...low), new Vector3(...high)]
    this.#middle = lowCorner.clone().add(highCorner).multiplyScalar(0.5)
    this.#radiusMm = lowCorner.distanceTo(highCorner) / 2
    this.#geometries = new Map(mesh.parts.map((part) => [part.key, geometryOf(part)]))
    this.#parts = mesh.placed.flatMap((placed, order) => {
      const geometry = this.#geometries.get(placed.part)
      if (geometry === undefined) return []
      const shared = { planes: [this.#plane], silhouette: this.#silhouette, ink: this.#ink }
      return [new ScenePart(placed, geometry, { order, ...shared, capSizeMm: 4 * this.#radiusMm })]
    })
    for (const part of this.#parts) this.#scene.add(part.group, part.cap)
    this.#outline.renderOrder = Number.MAX_SAFE_INTEGER
    this.#scene.add(this.#outline, new AmbientLight('#fff', 0.55 * Math.PI), this.#light)
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
    const eye = this.#camera.position.clone().sub(this.#middle)
    return viewOf(eye.x, eye.y, eye.z)
  }

  look(look: Look): void {
    this.#look = look
    this.#paint()
    this.#draw()
  }

  show(shown: Shown): void {
    this.#shown = shown
    for (const part of this.#parts) {
      part.group.visible = !shown.hidden.has(part.placed.name)
      part.place(shown.along)
    }
    this.#cut()
    this.#paint()
    this.#draw()
  }

  /** Turns the eye; the point looked at comes back to the middle of the lock. */
  turnTo(view: View): void {
    const [x, y, z] = directionOf(view)
    this.#controls.target.copy(this.#middle)
    this.#camera.position
      .set(x, y, z)
      .multiplyScalar(4 * this.#radiusMm)
      .add(this.#middle)
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
    const half = this.#radiusMm * AIR
    const [wide, high] = widthPx > heightPx ? [(half * widthPx) / heightPx, half] : [half, (half * heightPx) / widthPx]
    Object.assign(this.#camera, { left: -wide, right: wide, top: high, bottom: -high })
    this.#camera.updateProjectionMatrix()
    for (const part of this.#parts) part.setPixelRatio(ratio)
    this.#draw()
  }

  dispose(): void {
    if (this.#frame !== undefined) cancelAnimationFrame(this.#frame)
    this.#controls.dispose()
    for (const part of this.#parts) part.dispose()
    for (const { faces, edges } of this.#geometries.values()) {
      faces.dispose()
      edges.dispose()
    }
    for (const each of [this.#silhouette, this.#ink, this.#outlineInk, this.#outline.geometry]) each.dispose()
    this.#renderer.dispose()
  }

  #cut(): void {
    const { section } = this.#shown
    for (const part of this.#parts) part.cut(section !== undefined)
    const planes = section === undefined ? null : [this.#plane]
    this.#silhouette.clippingPlanes = planes
    this.#ink.clippingPlanes = planes
    this.#outline.visible = section !== undefined
    if (section === undefined) return
    const normal = cutAway(section)
    this.#plane.normal.copy(normal)
    const on = this.#middle.clone().setComponent(section.axis, section.atMm)
    this.#plane.constant = -normal.dot(on)
    for (const { cap } of this.#parts) {
      cap.position.copy(on)
      cap.lookAt(on.clone().sub(normal))
    }
    this.#drawOutline(section, normal)
  }

  /** The cut's outline in ink, a hair before the cut face so that it is not swallowed by it. */
  #drawOutline(section: SectionPlane, normal: Vector3): void {
    const pieces = this.#parts
      .filter(({ group }) => group.visible)
      .flatMap(({ placed, geometry }) => sectionOutline(geometry.part, placementAt(placed, this.#shown.along), section))
    this.#outline.geometry.dispose()
    this.#outline.geometry = new LineSegmentsGeometry()
    this.#outline.visible = pieces.length > 0
    if (pieces.length > 0) this.#outline.geometry.setPositions(pieces)
    this.#outline.position.copy(normal).multiplyScalar(-0.02)
  }

  #paint(): void {
    const look = this.#look
    if (look === undefined) return
    const { marked } = this.#shown
    for (const part of this.#parts) part.paint(look, marked !== undefined && part.placed.name !== marked)
    for (const each of [this.#ink, this.#outlineInk]) each.color.setStyle(look.ink)
    this.#silhouette.uniforms['ink']?.value.setStyle(look.ink)
  }

  #draw(): void {
    this.#frame ??= requestAnimationFrame(() => {
      this.#frame = undefined
      const mmPerPx =
        (this.#camera.top - this.#camera.bottom) /
        this.#camera.zoom /
        Math.max(1, this.#renderer.domElement.clientHeight)
      const width = this.#silhouette.uniforms['widthMm']
      if (width !== undefined) width.value = LINE_PX * mmPerPx
      // From the upper left of whoever looks, as on a shaded drawing.
      this.#light.position.set(-0.5, 0.8, 1).applyQuaternion(this.#camera.quaternion)
      this.#renderer.render(this.#scene, this.#camera)
    })
  }
}

/** What the cut takes away lies toward the eye of the view that looks along the axis: the front, the left, what is above. */
function cutAway({ axis }: SectionPlane): Vector3 {
  return axis === 2 ? new Vector3(0, 0, -1) : new Vector3().setComponent(axis, 1)
}

function geometryOf(part: LockMesh['parts'][number]): PartGeometry {
  const faces = new BufferGeometry()
  faces.setAttribute('position', new BufferAttribute(part.positions, 3))
  faces.setAttribute('normal', new BufferAttribute(part.normals, 3))
  faces.setIndex(new BufferAttribute(part.triangles, 1))
  const edges = new LineSegmentsGeometry()
  edges.setPositions(part.edges)
  return { part, faces, edges }
}
