import type { Dirent } from 'node:fs'
import { readdir, readFile } from 'node:fs/promises'
import { extname, join, relative, sep } from 'node:path'
import type { FastifyReply } from 'fastify'

/**
 * The built workbench, served from its folder. What is asked for is looked up among the names that lie there: no path
 * from outside reaches the file system.
 */
export class Workbench {
  readonly #folder: string
  #files: ReadonlySet<string> = new Set()

  constructor(folder: string) {
    this.#folder = folder
  }

  /** The page; false where nothing is built, and the pages of the service answer instead. */
  async page(reply: FastifyReply): Promise<boolean> {
    // a build may have come or gone since
    this.#files = await filesIn(this.#folder)
    return this.#send(reply, 'index.html')
  }

  /** A file beside the page, by the path of an address; false where there is none. */
  async file(reply: FastifyReply, path: string): Promise<boolean> {
    const name = path.slice(1)
    if (!this.#files.has(name)) this.#files = await filesIn(this.#folder)
    return name !== 'index.html' && this.#send(reply, name)
  }

  async #send(reply: FastifyReply, name: string): Promise<boolean> {
    const bytes = this.#files.has(name) ? await bytesOf(join(this.#folder, name)) : undefined
    if (bytes === undefined) return false
    reply.header('content-security-policy', policy).type(types[extname(name)] ?? 'application/octet-stream')
    if (isHashed(name)) reply.header('cache-control', 'public, max-age=31536000, immutable')
    reply.send(bytes)
    return true
  }
}

/** Nothing from elsewhere, nothing inline; pictures of the record are drawn by the page itself. */
const policy = [
  ...["default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' blob: data:", "font-src 'self'"],
  ...["connect-src 'self'", "worker-src 'self'", "manifest-src 'self'"],
  ...["base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"]
].join('; ')

/** The builder puts a hash of their content into the names of what lies under `assets`. */
const isHashed = (name: string): boolean => /^assets\/.*-[\w-]{8,}\.\w+$/.test(name)

const types: Readonly<Record<string, string>> = {
  ...{
    '.html': 'text/html; charset=utf-8',
    '.js': 'text/javascript; charset=utf-8',
    '.css': 'text/css; charset=utf-8'
  },
  ...{
    '.json': 'application/json; charset=utf-8',
    '.webmanifest': 'application/manifest+json',
    '.map': 'application/json'
  },
  ...{ '.svg': 'image/svg+xml', '.png': 'image/png', '.jpg': 'image/jpeg', '.ico': 'image/x-icon' },
  ...{ '.woff2': 'font/woff2', '.wasm': 'application/wasm', '.mp3': 'audio/mpeg', '.wav': 'audio/wav' }
}

async function filesIn(folder: string): Promise<ReadonlySet<string>> {
  const all = await readdir(folder, { recursive: true, withFileTypes: true }).catch((): Dirent[] => [])
  const names = all.filter((one) => one.isFile()).map((one) => relative(folder, join(one.parentPath, one.name)))
  return new Set(names.map((name) => name.split(sep).join('/')))
}

const bytesOf = (path: string): Promise<Buffer | undefined> => readFile(path).catch(() => undefined)
