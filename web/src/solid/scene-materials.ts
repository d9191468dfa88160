import { BackSide, Color, type IUniform, ShaderMaterial, type ShaderMaterialParameters, Vector4 } from 'three'

/**
 * What all materials of the scene share: the plane of the cut. A point p stays where normal · p + w is not below zero. The shaders are
 * short on purpose: a browser without a graphics card takes longer to translate a long one than to draw the lock.
 */
export class Cut {
  readonly #plane: IUniform<Vector4> = { value: new Vector4(0, 0, 0, 1) }

  /** @param plane `undefined` to cut nothing */
  set(plane: { readonly normal: { x: number; y: number; z: number }; readonly constant: number } | undefined): void {
    if (plane === undefined) this.#plane.value.set(0, 0, 0, 1)
    else this.#plane.value.set(plane.normal.x, plane.normal.y, plane.normal.z, plane.constant)
  }

  material({ uniforms, vertex, fragment, ...rest }: CutMaterial): ShaderMaterial {
    return new ShaderMaterial({
      ...rest,
      uniforms: { ...uniforms, cut: this.#plane },
      vertexShader: `
        uniform vec4 cut;
        varying float left;
        ${vertex.declared}
        void main() {
          vec3 grown = position;
          ${vertex.does}
          vec4 placed = modelMatrix * vec4(grown, 1.0);
          left = dot(placed, cut);
          gl_Position = projectionMatrix * viewMatrix * placed;
        }`,
      fragmentShader: `
        varying float left;
        ${fragment.declared}
        void main() {
          if (left < 0.0) discard;
          ${fragment.does}
        }`,
    })
  }
}

interface Shader {
  readonly declared: string
  readonly does: string
}
type CutMaterial = ShaderMaterialParameters & { readonly vertex: Shader; readonly fragment: Shader }

const NOTHING: Shader = { declared: '', does: '' }

/** Paper of one tone under a light from the upper left of whoever looks, as on a shaded drawing; `flat` leaves the shading out. */
export function surfaceMaterial(cut: Cut): ShaderMaterial {
  return cut.material({
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
    uniforms: { tone: { value: new Color() }, flatness: { value: 0 } },
    vertex: { declared: 'varying vec3 facing;', does: 'facing = normalMatrix * normal;' },
    fragment: {
      declared: 'uniform vec3 tone; uniform float flatness; varying vec3 facing;',
      does: `
        float lit = 0.55 + 0.5 * max(0.0, dot(normalize(facing), vec3(-0.363803, 0.582086, 0.727607)));
        gl_FragColor = vec4(tone * mix(lit, 1.0, flatness), 1.0);`,
    },
  })
}

/**
 * Ink round the silhouette: the back of the part, grown along its normals by a line's width, stands out only where the part ends. Round
 * faces have no edge that could be drawn.
 */
export function silhouetteMaterial(cut: Cut): ShaderMaterial {
  return cut.material({
    side: BackSide,
    uniforms: { widthMm: { value: 0.1 }, ink: { value: new Color() } },
    vertex: { declared: 'uniform float widthMm;', does: 'grown += normal * widthMm;' },
    fragment: { declared: 'uniform vec3 ink;', does: 'gl_FragColor = vec4(ink, 1.0);' },
  })
}

/** Draws nothing that is seen: what it covers is counted. */
export function countingMaterial(cut: Cut, parameters: ShaderMaterialParameters): ShaderMaterial {
  return cut.material({
    ...parameters,
    colorWrite: false,
    depthWrite: false,
    depthTest: false,
    vertex: NOTHING,
    fragment: { declared: '', does: 'gl_FragColor = vec4(1.0);' },
  })
}

/** How a cut face is hatched: neighbours lean differently, so that they are told apart without colour. */
export interface Hatch {
  /** Slope of the lines: 1 rises to the right, −1 falls. */
  readonly lean: 1 | -1
  readonly spacingPx: number
}

/** A cut face: paper with hatching that keeps its spacing on the screen, as ink on a drawing. */
export function hatchMaterial({ lean, spacingPx }: Hatch): ShaderMaterial {
  return new ShaderMaterial({
    uniforms: {
      paper: { value: new Color() },
      ink: { value: new Color() },
      lean: { value: lean },
      spacing: { value: spacingPx },
      pixelRatio: { value: 1 },
    },
    vertexShader: 'void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }',
    fragmentShader: `
      uniform vec3 paper;
      uniform vec3 ink;
      uniform float lean;
      uniform float spacing;
      uniform float pixelRatio;
      void main() {
        vec2 place = gl_FragCoord.xy / pixelRatio;
        float across = mod((place.x - lean * place.y) * 0.70710678, spacing);
        float line = 1.0 - smoothstep(0.35, 0.95, min(across, spacing - across));
        gl_FragColor = vec4(mix(paper, ink, line), 1.0);
      }`,
  })
}
