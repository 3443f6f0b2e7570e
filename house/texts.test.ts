import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { cloneRoot } from './outside.ts'
import { addresses, bannedWords, hashOf, machinePaths, promises, registryHosts } from './texts.ts'
import { codeSources, textSources } from './tree.ts'

/** The lock file is looked at by its own check; its package names are not our words. */
const all = () => textSources().filter(({ path }) => path !== 'package-lock.json')

describe('what stands in the files', () => {
  it('names no path of a machine', () => expect(all().flatMap(machinePaths)).toEqual([]))
  it('names no package registry', () => expect(textSources().flatMap(registryHosts)).toEqual([]))
  it('says nothing about how it came about', () => {
    expect(all().flatMap((source) => bannedWords(source))).toEqual([])
  })
  it('promises nothing that an examination can not give', () => expect(codeSources().flatMap(promises)).toEqual([]))
  it('locks packages without their addresses', () => {
    expect(addresses(readFileSync(join(cloneRoot, 'package-lock.json'), 'utf8'))).toEqual([])
  })
})

describe('the check itself', () => {
  const file = (text: string, path = 'job/record/a.ts') => ({ path, text })
  const slash = '/'

  it.each([
    `see ${slash}tmp/x`,
    `'${slash}work/main/a.ts'`,
    `(${slash}root/.cache)`,
    `${slash}home/me/x`,
    `spawn('${slash}usr/bin/python3')`,
    `C:${'\\'}data`
  ])('finds a machine path in %s', (text) => expect(machinePaths(file(text))).toHaveLength(1))
  it.each([
    'ground/work/x',
    ['..', 'tmp', 'x'].join(slash),
    'a/root/b',
    `#!${slash}usr/bin/env bash`,
    `${slash}proc/1/stat`
  ])('finds none in %s', (text) => expect(machinePaths(file(text))).toEqual([]))

  it('finds a registry', () => expect(registryHosts(file(`https://${['pypi', 'org'].join('.')}/x`))).toHaveLength(1))

  it('finds a banned word and a banned pair', () => {
    const list = [hashOf('sizzle'), hashOf('blue gizmo')]
    expect(bannedWords(file('a\nThe Sizzle.'), list)).toEqual(['job/record/a.ts:2: The Sizzle.'])
    expect(bannedWords(file('blue gizmo; gizmo, blue'), list)).toHaveLength(1)
    expect(bannedWords(file('sizzling blue'), list)).toEqual([])
  })

  it.each([
    "const s = 'No cracks.'",
    `const s = \`hole $\{id}: no crack found\``,
    "const s = 'crack-free'",
    "const s = 'no relevant defect'",
    "const s = 'free of flaws'"
  ])('finds a promise in %s', (text) => expect(promises(file(text))).toHaveLength(1))
  it.each([
    "const s = 'No relevant indication. Shown to find 0.8 mm corner flaws.'",
    "const s = 'damage, not a crack'",
    "// never print 'no crack'",
    "const s = 'no notch-to-crack ratio is known'"
  ])('finds none in %s', (text) => expect(promises(file(text))).toEqual([]))
  it('leaves tests alone', () => expect(promises(file("const s = 'no crack'", 'job/record/a.test.ts'))).toEqual([]))

  it('finds an address in a lock file, and no fault in a link', () => {
    const packages = {
      'node_modules/a': { resolved: 'https://x/a.tgz' },
      'node_modules/b': { resolved: 'b', link: true }
    }
    expect(addresses(JSON.stringify({ packages }))).toEqual(['node_modules/a'])
  })
})
