import type { Block, Fact } from '@trueloop/job/record'
import type { Validation } from './validate.ts'

/** The record of a validation as a report: who signs it stands below the figures. */
export function validationBlocks(validation: Validation, signedBy?: string): readonly Block[] {
  const { checks, files, holds } = validation
  const cell = (text: string) => ({ text })
  return [
    { block: 'heading', level: 1, title: 'Record of installation and performance' },
    {
      ...{ block: 'caution', tone: holds ? 'note' : 'stop', title: holds ? 'All checks hold' : 'NOT all checks hold' },
      text: holds
        ? 'This program does on this machine what it did when it was released. How small a flaw a whole set-up finds is another question.'
        : 'This program does not do on this machine what it did when it was released. Do not examine with it.'
    },
    { block: 'heading', level: 2, title: 'Installation' },
    { block: 'facts', facts: facts(validation) },
    {
      ...{ block: 'table', caption: 'Files of the program', columns: [{ label: 'File' }, { label: 'SHA-256' }] },
      rows: files.map(({ file, sha256 }) => [cell(file), cell(sha256)])
    },
    { block: 'heading', level: 2, title: 'Performance' },
    {
      ...{ block: 'table', caption: 'Checks' },
      columns: ['Check', 'Needed', 'Found', 'Holds', 'Source'].map((label) => ({ label })),
      rows: checks.map((one) => [...[one.name, one.needed, one.found, one.holds ? 'yes' : 'NO', one.source].map(cell)])
    },
    { block: 'heading', level: 2, title: 'Signature' },
    { block: 'paragraph', text: signedBy ?? 'Not signed.' }
  ]
}

const facts = ({ at, program, methods, machine }: Validation): readonly Fact[] => [
  { label: 'Program', value: `${program.name} ${program.version}` },
  {
    label: 'Method of examination',
    value: Object.entries(methods)
      .map(([of, number]) => `${of} ${number}`)
      .join(', ')
  },
  { label: 'System', value: machine.system },
  { label: 'Processor', value: machine.processor },
  { label: 'Node', value: machine.node },
  { label: 'Time', value: at.time, known: at.known }
]
