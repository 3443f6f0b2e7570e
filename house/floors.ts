import { importsOf, targetOf } from './imports.ts'
import { isPure, isTest, type Source } from './tree.ts'

/** Floors from the ground up. A floor imports those before it. */
const floors = ['ground', 'metal', 'job', 'host', 'apps'] as const

/** Rooms in order: a room imports those before it. The rooms of `host` are adapters side by side: any order, no circle. */
const rooms: Readonly<Record<string, readonly string[]>> = {
  ground: ['refusal', 'quantity', 'numerics', 'picture'],
  metal: ['materials', 'fields'],
  job: [
    ...['plan', 'scan', 'signal', 'standardize', 'interpret', 'evaluate'],
    ...['examine', 'record', 'prove', 'rehearse']
  ],
  apps: ['service', 'workbench', 'cli']
}

/** Packages of others that may be used below `host`. */
const allowedBelowHost = ['zod']

interface Room {
  readonly floor: string
  readonly room: string
}

const roomOf = (path: string): Room => {
  const [floor = '', room = ''] = path.split('/')
  return { floor, room: room.includes('.') ? '' : room }
}

const isHouse = (path: string): boolean => /^(ground|metal|job|host|apps)\//.test(path)

/** All imports in the given files that break the order of the house, each as `place: why`. */
export const brokenFloors = (all: readonly Source[]): readonly string[] =>
  all.flatMap((source) =>
    importsOf(source).flatMap(({ from, place }) => {
      const why = complaint(source.path, from)
      return why === undefined ? [] : [`${place}: ${why}`]
    })
  )

function complaint(path: string, from: string): string | undefined {
  if (from === '(computed)') return isPure(path) ? 'a computed import below host' : undefined
  const target = targetOf(from, path)
  if (target === undefined) return foreign(path, from)
  if (!isHouse(target)) return isTest(path) ? undefined : `${from} is not part of the product`
  return order(path, target) ?? door(path, target, from)
}

const foreign = (path: string, from: string): string | undefined =>
  isPure(path) && !allowedBelowHost.includes(from) ? `${from} may not be used below host` : undefined

/** Tests may look ahead (a generator of later rooms makes their recordings), so the order does not bind them. */
function order(path: string, target: string): string | undefined {
  if (isTest(path)) return undefined
  const mine = roomOf(path)
  const other = roomOf(target)
  const rise = floors.indexOf(other.floor as never) - floors.indexOf(mine.floor as never)
  if (rise > 0) return `${other.floor} lies above ${mine.floor}`
  if (rise < 0 || mine.room === other.room) return undefined
  return orderInside(mine, other)
}

function orderInside({ floor, room }: Room, other: Room): string | undefined {
  const known = rooms[floor]
  if (known === undefined) return undefined
  const unknown = [room, other.room].find((name) => !known.includes(name))
  if (unknown !== undefined) return `room ${floor}/${unknown} has no place in the order (house/floors.ts)`
  return known.indexOf(other.room) > known.indexOf(room) ? `${other.room} comes after ${room}` : undefined
}

/** Into another room only through its index; across floors only by the package's name. */
function door(path: string, target: string, from: string): string | undefined {
  const mine = roomOf(path)
  const other = roomOf(target)
  const sameFloor = mine.floor === other.floor && mine.floor !== 'apps'
  if (sameFloor && mine.room === other.room) return undefined
  if (mine.floor === 'apps' && mine.room === other.room && other.floor === 'apps') return undefined
  if (sameFloor !== from.startsWith('.'))
    return `${from}: ${sameFloor ? 'inside a floor by path' : 'across packages by name'}`
  const helper = isTest(path) && isTest(target)
  return helper || target === indexOf(other) || ownDoors.includes(target)
    ? undefined
    : `${from} goes past the index of ${other.floor}/${other.room}`
}

/** What a page may have of a program that runs in Node: types alone. */
const ownDoors: readonly string[] = ['apps/service/client/index.ts', 'job/record/figures/index.ts']

const indexOf = ({ floor, room }: Room): string => `${floor}/${room}/index.ts`

/** Circles of files, tests left out; each as the files in their order. */
export function circles(all: readonly Source[]): readonly string[] {
  const next = graph(all)
  const done = new Set<string>()
  return [...next.keys()].flatMap((path) => visit(path, { next, done, trail: [] }))
}

type Graph = ReadonlyMap<string, readonly string[]>

function graph(all: readonly Source[]): Graph {
  const product = all.filter(({ path }) => !isTest(path))
  const targets = ({ path, ...rest }: Source) =>
    importsOf({ path, ...rest }).flatMap(({ from }) => targetOf(from, path) ?? [])
  return new Map(product.map((source) => [source.path, targets(source)]))
}

interface Walk {
  readonly next: Graph
  readonly done: Set<string>
  readonly trail: readonly string[]
}

function visit(path: string, { next, done, trail }: Walk): readonly string[] {
  const since = trail.indexOf(path)
  if (since >= 0) return [[...trail.slice(since), path].join(' -> ')]
  if (done.has(path)) return []
  const found = (next.get(path) ?? []).flatMap((target) => visit(target, { next, done, trail: [...trail, path] }))
  done.add(path)
  return found
}

/** Circles of rooms inside a floor (what a circle of files would not show). */
export function roomCircles(all: readonly Source[]): readonly string[] {
  const product = all.filter(({ path }) => !isTest(path))
  const edges = new Map<string, string[]>()
  for (const source of product) for (const { from } of importsOf(source)) addEdge(edges, source.path, from)
  const done = new Set<string>()
  return [...edges.keys()].flatMap((room) => visit(room, { next: edges, done, trail: [] }))
}

function addEdge(edges: Map<string, string[]>, path: string, from: string): void {
  const target = targetOf(from, path)
  if (target === undefined || !isHouse(target)) return
  const [mine, other] = [roomOf(path), roomOf(target)].map(({ floor, room }) => `${floor}/${room}`)
  if (mine !== other) edges.set(mine ?? '', [...(edges.get(mine ?? '') ?? []), other ?? ''])
}
