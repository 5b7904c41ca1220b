// @ts-check
/** What the engine would otherwise fetch: which build it is, and that no further packages exist. */
export const lock = {
  info: {
    abi_version: '2026_0',
    arch: 'wasm32',
    platform: 'emscripten_5_0_3',
    python: '3.14.2',
    version: '314.0.7',
  },
  packages: {},
};

/** Where the calculators are unpacked inside Python. */
export const PACKAGES = '/lib/python3.14/site-packages';
