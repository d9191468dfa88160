import { createHmac } from 'node:crypto'

/** Lets people into a server that was just started, as its pages would: for browser tests and pictures. */

export const PASSWORD = 'a long enough passphrase'
const EVERY_ROLE_AT_THE_WORKS = ['engineer', 'planner', 'operator', 'builder', 'inspector', 'registrar']

/**
 * @param {string} address of the server
 * @param {string} link that it printed for the first administrator
 * @returns the administrator, somebody with every other role, and a builder: each with a browser's storage state
 */
export async function letPeopleIn(address, link) {
  const administrator = new Visitor(address, 'admin@tarnmoor.example')
  await administrator.comeIn(link, { name: 'A. Dministrator', email: administrator.email, roles: [] })
  await administrator.enrol()
  const invite = async (name, email, roles) => {
    const made = await administrator.send('POST', '/api/invitations', { name, email, roles })
    const visitor = new Visitor(address, email)
    await visitor.comeIn(made.link)
    return visitor
  }
  const everyRole = await invite('R. Thorne', 'thorne@tarnmoor.example', EVERY_ROLE_AT_THE_WORKS)
  await everyRole.enrol()
  const builder = await invite('B. Uilder', 'builder@tarnmoor.example', ['builder'])
  return { administrator, everyRole, builder }
}

/** Somebody with cookies, as a browser keeps them. */
class Visitor {
  #address
  #cookies = new Map()
  /** Of the second factor, in base 32. */
  secret = ''

  constructor(address, email) {
    this.#address = address
    this.email = email
  }

  async send(method, path, body) {
    const response = await this.fetch(path, {
      method,
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })
    for (const line of response.headers.getSetCookie()) {
      const [, name, value] = /^([^=]+)=([^;]*)/.exec(line) ?? []
      if (value === '' || /max-age=0/i.test(line)) this.#cookies.delete(name)
      else this.#cookies.set(name, value)
    }
    const answer = await response.json()
    if (!response.ok) throw new Error(`${method} ${path}: ${JSON.stringify(answer)}`)
    return answer
  }

  /** As `fetch`, from a page of the server with the cookies of who is signed in. */
  fetch(path, init = {}) {
    const cookie = [...this.#cookies].map(([name, value]) => `${name}=${value}`).join('; ')
    return fetch(`${this.#address}${path}`, { ...init, headers: { ...init.headers, origin: this.#address, cookie } })
  }

  async comeIn(link, given = {}) {
    await this.send('POST', '/api/invitations/accept', { link: link.split('#')[1], password: PASSWORD, ...given })
  }

  async enrol() {
    const { uri } = await this.send('POST', '/api/account/second-factor', { password: PASSWORD })
    this.secret = new URL(uri).searchParams.get('secret') ?? ''
    await this.send('POST', '/api/account/second-factor/confirmation', { code: codeNow(this.secret) })
  }

  /** What a browser that signed in would have kept. */
  storageState() {
    const { hostname, protocol } = new URL(this.#address)
    const cookies = [...this.#cookies].map(([name, value]) => ({
      name,
      value,
      domain: hostname,
      path: '/',
      expires: -1,
      httpOnly: true,
      secure: protocol === 'https:',
      sameSite: 'Strict',
    }))
    return { cookies, origins: [] }
  }
}

/**
 * The code of a second factor, RFC 6238: SHA-1, 30 s, six digits.
 * @param {string} base32 the secret
 */
export function codeNow(base32) {
  const bits = [...base32]
    .map((letter) => 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'.indexOf(letter).toString(2).padStart(5, '0'))
    .join('')
  const key = Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)))
  const counter = Buffer.alloc(8)
  counter.writeBigUInt64BE(BigInt(Math.floor(Date.now() / 30_000)))
  const hash = createHmac('sha1', key).update(counter).digest()
  return String((hash.readUInt32BE((hash.at(-1) ?? 0) & 15) & 0x7fffffff) % 1_000_000).padStart(6, '0')
}
