/** How to read the drawing of a chain. */
export function ChainKey() {
  return (
    <p className="small quiet">
      Outlined: tolerance, worst case. Filled: the process, ± 3 s; the stroke is its mean. To the right a dimension
      makes the result larger. Upright line: the limit; blue holds it, orange leaves it. Simulated: 20 000 draws, always
      the same.
    </p>
  )
}
