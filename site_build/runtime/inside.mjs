// Boot Python under node, run `main(arguments)` of one module of inside/ in it and write what it returns.
// usage: node inside.mjs JOB.json   (fields: see node.py)
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const job = JSON.parse(readFileSync(process.argv[2], 'utf8'));

const { loadPyodide } = await import(pathToFileURL(join(job.engine, 'pyodide.mjs')).href);
const { lock, PACKAGES } = await import(pathToFileURL(job.settings).href);
const python = await loadPyodide({
  indexURL: job.engine,
  lockFileContents: lock,
  env: { PYTHONPATH: '/inside', PYTHONNODEBUGRANGES: '1' }, // without columns of source, compiled modules are smaller
  fsInit: (FS) => {
    for (const [inside, outside] of Object.entries(job.mounts)) {
      FS.mkdirTree(inside);
      FS.mount(FS.filesystems.NODEFS, { root: outside }, inside);
    }
  },
  ...(job.library && { stdLibURL: job.library }),
});
for (const archive of job.archives) {
  python.unpackArchive(new Uint8Array(readFileSync(archive)), 'zip', { extractDir: PACKAGES });
}
try {
  writeFileSync(job.result, python.pyimport(job.script).main(JSON.stringify(job.arguments)));
} catch (problem) {
  // only the message: an uncaught error would print the engine's source, one line of a megabyte
  process.stderr.write(`${problem.message}\n`);
  process.exitCode = 1;
}
