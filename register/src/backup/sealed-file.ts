import { createCipheriv, createDecipheriv, randomBytes, scrypt, timingSafeEqual } from 'node:crypto'
import { RegisterTrouble } from '../register-trouble.ts'

const MARK = Buffer.from('HASPWRIGHT BACKUP 1\n')
const SALT_BYTES = 16
const CHECK_BYTES = 16
const KEY_BYTES = 32
const TAG_BYTES = 16
const LENGTH_BYTES = 4
const PIECE_BYTES = 1 << 20
/** RFC 7914: N = 2¹⁷, r = 8 take 128 MB and a good part of a second for each guess. Part of the form: a file cannot ask for more. */
const SCRYPT = { N: 2 ** 17, r: 8, p: 1, maxmem: 256 * 2 ** 20 }

/**
 * Enciphers bytes of any length with a passphrase, piece by piece: AES-256-GCM under a key of scrypt (RFC 7914) with a salt of
 * this file alone. The nonce counts the pieces and marks the last (the STREAM construction of Hoang, Reyhanitabar, Rogaway and
 * Vizár, 2015), so that pieces changed, exchanged, left out or cut off at the end are noticed.
 */
export async function* sealed(plain: AsyncIterable<Uint8Array>, passphrase: string): AsyncGenerator<Buffer> {
  const salt = randomBytes(SALT_BYTES)
  const { key, check } = await keyFrom(passphrase, salt)
  const head = Buffer.concat([MARK, salt, check])
  yield head
  let number = 0
  for await (const { piece, isLast } of inPieces(plain)) {
    const cipher = createCipheriv('aes-256-gcm', key, nonceOf(number++, isLast), { authTagLength: TAG_BYTES })
    cipher.setAAD(head)
    const hidden = Buffer.concat([cipher.update(piece), cipher.final()])
    const length = Buffer.alloc(LENGTH_BYTES)
    length.writeUInt32BE(hidden.length)
    yield Buffer.concat([length, hidden, cipher.getAuthTag()])
  }
}

/**
 * Deciphers what {@link sealed} made. A piece is handed on only when it is proven; that the whole was there is proven when this ends.
 * @throws RegisterTrouble for another passphrase, another kind of file, and anything changed or missing
 */
export async function* opened(
  bytes: AsyncIterable<Uint8Array>,
  passphrase: string,
  place: string,
): AsyncGenerator<Buffer> {
  const source = new Taking(bytes)
  const head = await source.take(MARK.length + SALT_BYTES + CHECK_BYTES)
  if (head === undefined || !head.subarray(0, MARK.length).equals(MARK))
    throw new RegisterTrouble(place, 'This is no backup that this version of Haspwright knows.')
  const { key, check } = await keyFrom(passphrase, head.subarray(MARK.length, MARK.length + SALT_BYTES))
  if (!timingSafeEqual(check, head.subarray(-CHECK_BYTES)))
    throw new RegisterTrouble(place, 'The passphrase is not the one this backup was made with.')
  for (let number = 0; ; number++) {
    const length = (await source.take(LENGTH_BYTES))?.readUInt32BE()
    const rest = length === undefined || length > PIECE_BYTES ? undefined : await source.take(length + TAG_BYTES)
    if (rest === undefined) throw damaged(place)
    const isLast = await source.isEmpty()
    const opening = createDecipheriv('aes-256-gcm', key, nonceOf(number, isLast), { authTagLength: TAG_BYTES })
    opening.setAAD(head)
    opening.setAuthTag(rest.subarray(-TAG_BYTES))
    const plain = opening.update(rest.subarray(0, -TAG_BYTES))
    try {
      opening.final()
    } catch {
      throw damaged(place)
    }
    yield plain
    if (isLast) return
  }
}

const damaged = (place: string) =>
  new RegisterTrouble(place, 'This backup is damaged or not whole: take another copy of it, or an earlier one.')

function keyFrom(passphrase: string, salt: Uint8Array): Promise<{ key: Buffer; check: Buffer }> {
  // Written in one form, so that the same letters typed on another system are the same passphrase.
  const letters = passphrase.normalize('NFKC')
  return new Promise((resolve, reject) =>
    scrypt(letters, salt, KEY_BYTES + CHECK_BYTES, SCRYPT, (failure, made) =>
      failure === null
        ? resolve({ key: made.subarray(0, KEY_BYTES), check: made.subarray(KEY_BYTES) })
        : reject(failure),
    ),
  )
}

function nonceOf(number: number, isLast: boolean): Buffer {
  const nonce = Buffer.alloc(12)
  nonce.writeBigUInt64BE(BigInt(number), 3)
  nonce.writeUInt8(isLast ? 1 : 0, 11)
  return nonce
}

/** Pieces of one size; the last, which may be shorter or empty, is marked. */
async function* inPieces(plain: AsyncIterable<Uint8Array>): AsyncGenerator<{ piece: Buffer; isLast: boolean }> {
  let waiting: Uint8Array[] = []
  let length = 0
  for await (const bytes of plain) {
    waiting.push(bytes)
    length += bytes.length
    if (length <= PIECE_BYTES) continue
    let all: Buffer = Buffer.concat(waiting)
    for (; all.length > PIECE_BYTES; all = all.subarray(PIECE_BYTES))
      yield { piece: all.subarray(0, PIECE_BYTES), isLast: false }
    waiting = [all]
    length = all.length
  }
  yield { piece: Buffer.concat(waiting), isLast: true }
}

/** Takes bytes off a stream, so many at a time. */
class Taking {
  readonly #source: AsyncIterator<Uint8Array>
  #held: Buffer = Buffer.alloc(0)

  constructor(bytes: AsyncIterable<Uint8Array>) {
    this.#source = bytes[Symbol.asyncIterator]()
  }

  /** @returns `undefined` when there are not so many left */
  async take(count: number): Promise<Buffer | undefined> {
    if (!(await this.#has(count))) return undefined
    const taken = this.#held.subarray(0, count)
    this.#held = this.#held.subarray(count)
    return taken
  }

  async isEmpty(): Promise<boolean> {
    return !(await this.#has(1))
  }

  async #has(count: number): Promise<boolean> {
    const more: Uint8Array[] = [this.#held]
    let length = this.#held.length
    while (length < count) {
      const next = await this.#source.next()
      if (next.done) break
      more.push(next.value)
      length += next.value.length
    }
    if (more.length > 1) this.#held = Buffer.concat(more)
    return length >= count
  }
}
