/** A page elsewhere may make a name of its own point at 127.0.0.1; such requests carry that name. */
export const isLoopbackName = (host: string | undefined): boolean =>
  /^(127\.0\.0\.1|localhost|\[::1\])(:\d{1,5})?$/.test(host ?? '')
