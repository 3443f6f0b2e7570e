/** HTML as a value of its own: what is not marked as HTML is escaped. */
export interface Html {
  readonly html: string
}

type Part = Html | string | number | readonly Html[]

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;'
}

export const escaped = (text: string): string => text.replaceAll(/[&<>"']/g, (one) => entities[one] ?? one)

const textOf = (part: Part): string => {
  if (Array.isArray(part)) return part.map(({ html }) => html).join('')
  return typeof part === 'object' ? (part as Html).html : escaped(String(part))
}

export const html = (strings: TemplateStringsArray, ...parts: readonly Part[]): Html => ({
  html: strings.map((text, at) => text + (at < parts.length ? textOf(parts[at] as Part) : '')).join('')
})

export const none: Html = { html: '' }
