/** The last part of a name, in letters, figures and a few marks: it is told and printed, and leads to no file. */
export const plainName = (file: string, otherwise: string): string =>
  file
    .split(/[\\/]/)
    .at(-1)
    ?.replaceAll(/[^\p{L}\p{N} ._()+-]+/gu, '_')
    .replaceAll(/^\.+/g, '')
    .slice(0, 120) || otherwise
