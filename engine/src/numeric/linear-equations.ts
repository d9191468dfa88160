/**
 * Solves A·x = b by elimination with the largest pivot of each column; `matrix` (row after row) and `right` are overwritten.
 * `undefined` when a pivot vanishes: the equations do not decide x.
 */
export function solveLinear(matrix: Float64Array, right: Float64Array): Float64Array | undefined {
  const n = right.length
  const at = (row: number, column: number) => matrix[row * n + column] ?? 0
  for (let k = 0; k < n; k++) {
    let pivot = k
    for (let row = k + 1; row < n; row++) if (Math.abs(at(row, k)) > Math.abs(at(pivot, k))) pivot = row
    if (at(pivot, k) === 0) return undefined
    if (pivot !== k) swapRows(matrix, right, { n, k, pivot })
    const rowK = matrix.subarray(k * n, k * n + n)
    const diagonal = rowK[k] ?? 1
    for (let row = k + 1; row < n; row++) {
      const own = matrix.subarray(row * n, row * n + n)
      const factor = (own[k] ?? 0) / diagonal
      if (factor === 0) continue
      for (let column = k; column < n; column++) own[column] = (own[column] ?? 0) - factor * (rowK[column] ?? 0)
      right[row] = (right[row] ?? 0) - factor * (right[k] ?? 0)
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    let sum = right[row] ?? 0
    for (let column = row + 1; column < n; column++) sum -= at(row, column) * (right[column] ?? 0)
    right[row] = sum / at(row, row)
  }
  return right
}

function swapRows(
  matrix: Float64Array,
  right: Float64Array,
  { n, k, pivot }: { n: number; k: number; pivot: number },
): void {
  const kept = matrix.slice(k * n, k * n + n)
  matrix.copyWithin(k * n, pivot * n, pivot * n + n)
  matrix.set(kept, pivot * n)
  const value = right[k] ?? 0
  right[k] = right[pivot] ?? 0
  right[pivot] = value
}
