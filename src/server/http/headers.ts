import type { MiddlewareHandler } from 'hono';
import { secureHeaders } from 'hono/secure-headers';

/**
 * Headers of every answer. Cross-origin isolation lets WebAssembly use threads; 'wasm-unsafe-eval' lets it run at all;
 * nothing is loaded from anywhere but this server. The page of the interface description styles itself inline.
 */
export function headers(): MiddlewareHandler {
  const page = (styles: readonly string[]) =>
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'self'"],
        scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
        styleSrc: [...styles],
        imgSrc: ["'self'", 'blob:', 'data:'],
        mediaSrc: ["'self'", 'blob:'],
        connectSrc: ["'self'", 'blob:', 'data:'],
        workerSrc: ["'self'", 'blob:'],
        manifestSrc: ["'self'"],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
      crossOriginOpenerPolicy: 'same-origin',
      crossOriginEmbedderPolicy: 'require-corp',
      crossOriginResourcePolicy: 'same-origin',
      referrerPolicy: 'no-referrer',
      // Behind a proxy with TLS the proxy decides; on plain HTTP it would mean nothing.
      strictTransportSecurity: false,
      permissionsPolicy: {
        camera: ['self'],
        geolocation: ['self'],
        accelerometer: ['self'],
        gyroscope: ['self'],
        magnetometer: ['self'],
        microphone: [],
        payment: [],
      },
    });
  const own = page(["'self'"]);
  const docs = page(["'self'", "'unsafe-inline'"]);
  return (c, next) => (c.req.path.startsWith('/docs') ? docs(c, next) : own(c, next));
}
