// SPDX-License-Identifier: GPL-3.0-or-later
// What other programs make of SARIF and JUnit reports: a validator finds no error, a parser finds the counts of the JSON report.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { parse } from 'junit2json';

const program = process.env.CUTPROOF_PROGRAM;
const here = dirname(fileURLToPath(import.meta.url));
const project = join(here, '../..');
const yaml = folder => readdirSync(join(project, folder)).filter(name => name.endsWith('.yaml')).sort().map(name => join(folder, name));
const names = ['<script>', ']]>', '&#0;', '::error::x', '\\u202e', '\\ufffe', '\\ud800', '[x](javascript:x)', '=cmd', '\\e[2J', 'x'.repeat(10000)];
let folder;
const reports = [];  // { name, json }

function check(name, plans, cwd = project) {
  const files = Object.fromEntries(['json', 'sarif', 'junit'].map(format => [format, join(folder, `${name}.${format}`)]));
  const words = Object.entries(files).flatMap(([format, file]) => ['--report', `${format}=${file}`]);
  const done = spawnSync(program, ['check', '-q', '--no-certificates', ...plans, ...words], { cwd });
  const json = JSON.parse(readFileSync(files.json));
  assert.equal(done.status, json.exit_code);
  reports.push({ name, plans: json.plans ?? [json], files });
}

before(() => {
  folder = mkdtempSync(join(tmpdir(), 'cutproof-readers-'));
  const plans = [...yaml('plans'), ...yaml('plans/broken')];
  plans.forEach((plan, i) => check(`plan-${i}`, [plan]));
  check('all', plans);
  check('absolute', [join(project, 'plans/broken/overlap.yaml')]);
  names.forEach((name, i) => {
    const plan = `stranger-${i}.yaml`;
    writeFileSync(join(folder, plan), `cutproof: 1\ntitle: "${name}"\nstart: { T: { box: { size: [1, 1, 1] } } }\nsteps:\n` +
      `  - title: "${name}"\n    move: { T: { translation: [1, 0, 0] } }\ngoal: { box: { size: [1, 1, 1] } }\n`);
    check(`stranger-${i}`, [plan], folder);
  });
});
after(() => rmSync(folder, { recursive: true, force: true }));

// Its exit code is 0 whatever it finds.
function complaints(files) {
  const done = spawnSync(join(here, 'node_modules/.bin/sarif-multitool'), ['validate', ...files], { encoding: 'utf8', maxBuffer: 1 << 28 });
  assert.match(done.stdout, new RegExp(`Done\\. ${files.length} files scanned`));
  return done.stdout.split('\n').filter(line => / error [A-Z]+[0-9]+: /.test(line));
}

test('a validator finds no error in SARIF reports', () => {
  assert.deepEqual(complaints(reports.map(report => report.files.sarif)), []);
});

test('the validator does complain about what is wrong', () => {
  const refuted = reports.find(report => report.plans[0].outcome === 'refuted');
  const changes = [log => { log.version = '9'; }, log => { delete log.runs[0].tool.driver.name; }, log => { log.runs[0].results[0].ruleIndex = 999; },
    log => { log.runs[0].results[0].locations[0].physicalLocation.region.startLine = 0; }];
  const files = changes.map((change, i) => {
    const log = JSON.parse(readFileSync(refuted.files.sarif));
    change(log);
    const file = join(folder, `broken-${i}.sarif`);
    writeFileSync(file, JSON.stringify(log));
    return file;
  });
  const found = complaints(files);
  for (const file of files) assert.ok(found.some(line => line.startsWith(file)), file);
});

test('a parser of JUnit reads the counts of the JSON report', async () => {
  for (const report of reports) {
    const read = await parse(readFileSync(report.files.junit, 'utf8'));
    assert.equal(read.testsuite.length, report.plans.length);
    for (const [i, plan] of report.plans.entries()) {
      const suite = read.testsuite[i];
      const cases = suite.testcase;
      const count = kind => cases.filter(each => each[kind] !== undefined).length;
      assert.equal(suite.tests, cases.length);
      assert.equal(suite.failures, count('failure'));
      assert.equal(suite.errors, count('error'));
      assert.equal(suite.skipped, count('skipped'));
      const troubles = cases.flatMap(each => [...(each.failure ?? []), ...(each.error ?? [])]);
      assert.deepEqual(troubles.map(each => each.type).sort(), plan.findings.map(finding => finding.code).sort());
      const plain = plan.findings.filter(finding => /^[\x20-\x7e]*$/.test(finding.message)).map(finding => finding.message);
      for (const message of plain) assert.ok(troubles.some(each => each.message === message), message);
    }
  }
});
