import { createHash } from 'node:crypto'
import ts from 'typescript'
import { isTest, nodes, parse, placeOf, type Source } from './tree.ts'

/** Places of one machine. The pieces are joined here so that this list is no such text itself. */
const machinePath = new RegExp(
  `(?<![\\w.*)\\]}$-])/(?:${['work', 'tmp', 'root', 'home/\\w+', 'Users/\\w+', 'usr/local'].join('|')})/|\\b[A-Z]:\\\\\\w`
)

const hosts = [
  ['registry', 'npmjs', 'org'],
  ['npmjs', 'com'],
  ['yarnpkg', 'com'],
  ['pypi', 'org'],
  ['pythonhosted', 'org'],
  ['deb', 'debian', 'org'],
  ['proxy', 'golang', 'org'],
  ['crates', 'io']
].map((parts) => parts.join('.'))

/** Words that belong to how a text came about, not to what it says. Kept as hashes, so that the list is no mention. */
const banned = [
  ...['54e6289e14c7', 'd27247eba6ef', 'c857d09db23e', 'c70eca6b0f88', '60965168ce76'],
  ...['7d3194f79e64', '487b91042c7c', '875a4dbf957b', '0a91a03b3ec8', '31d123108dba']
]

/** A promise that no examination can give. What was examined, and how small a flaw that shows, is said instead. */
const promise =
  /\bno\s+(?:[\w-]+\s+)?(?:cracks?|defects?)\b|\b(?:crack|defect|flaw)[- ]free\b|\bfree\s+(?:of|from)\s+(?:any\s+)?(?:cracks|defects|flaws)\b/i

const shebang = /^#!.*$/m

const linesWhere = ({ path, text }: Source, is: (line: string) => boolean): readonly string[] =>
  text
    .replace(shebang, '')
    .split('\n')
    .flatMap((line, index) => (is(line) ? [`${path}:${index + 1}: ${line.trim().slice(0, 100)}`] : []))

/** Code finds programs by their name (house/tools.ts), never by where one system keeps them. */
const programPath = new RegExp(`['"\`]/${'usr/bin'}/`)

export const machinePaths = (source: Source): readonly string[] =>
  linesWhere(source, (line) => machinePath.test(line) || (/\.m?[jt]sx?$/.test(source.path) && programPath.test(line)))

export const registryHosts = (source: Source): readonly string[] =>
  linesWhere(source, (line) => hosts.some((host) => line.includes(host)))

const known = new Map<string, boolean>()

/** Short hash of a word or of two words in a row, lower case. */
export const hashOf = (words: string): string => createHash('sha256').update(words).digest('hex').slice(0, 12)

function isBanned(words: string, list: readonly string[]): boolean {
  if (list !== banned) return list.includes(hashOf(words))
  const before = known.get(words)
  if (before !== undefined) return before
  const now = list.includes(hashOf(words))
  known.set(words, now)
  return now
}

export const bannedWords = (source: Source, list: readonly string[] = banned): readonly string[] =>
  linesWhere(source, (line) => {
    const words = line.toLowerCase().match(/[a-z]+/g) ?? []
    return words.some((word, at) => isBanned(word, list) || isBanned(`${word} ${words[at + 1] ?? ''}`, list))
  })

/** Strings and templates of the product that promise too much. Comments and tests may speak of it. */
export function promises(source: Source): readonly string[] {
  if (isTest(source.path)) return []
  const found: string[] = []
  for (const node of nodes(parse(source))) {
    const isText = ts.isStringLiteralLike(node) || ts.isTemplateExpression(node) || ts.isJsxText(node)
    if (isText && promise.test(node.getText().replaceAll(/\s+/g, ' '))) found.push(placeOf(node))
  }
  return found
}

/** Lock file entries that say where a package came from; a link into the clone is none. */
export function addresses(lock: string): readonly string[] {
  const { packages } = JSON.parse(lock) as { packages: Record<string, { resolved?: string; link?: boolean }> }
  return Object.entries(packages)
    .filter(([, { resolved, link }]) => resolved !== undefined && link !== true)
    .map(([name]) => name)
}
