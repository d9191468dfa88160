import { BackSide, Color, ShaderMaterial } from 'three'

/**
 * Ink round the silhouette: the back of the part, grown along its normals by a line's width, stands out only where the part ends. Round
 * faces have no edge that could be drawn.
 */
export function silhouetteMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    side: BackSide,
    clipping: true,
    uniforms: { widthMm: { value: 0.1 }, ink: { value: new Color() } },
    vertexShader: `
      #include <clipping_planes_pars_vertex>
      uniform float widthMm;
      void main() {
        vec4 mvPosition = modelViewMatrix * vec4(position + normal * widthMm, 1.0);
        gl_Position = projectionMatrix * mvPosition;
        #include <clipping_planes_vertex>
      }`,
    fragmentShader: `
      #include <clipping_planes_pars_fragment>
      uniform vec3 ink;
      void main() {
        #include <clipping_planes_fragment>
        gl_FragColor = vec4(ink, 1.0);
      }`,
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
