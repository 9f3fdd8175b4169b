// node main/scripts/icons.mjs: draws the icons anew from the SVG files in main/resources. The results are kept in the repository.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { bundleProgram, root } from './build-output.mjs';
import { icnsFile, icoFile } from './icon-files.mjs';

const sizes = [16, 24, 32, 48, 64, 128, 256, 512, 1024];
const resources = join(root, 'main', 'resources');
const { installedBrowser } = await import(pathToFileURL(await bundleProgram('main/browser/open-window.ts')).href);
const browser = await chromium.launch({ executablePath: installedBrowser(), args: process.getuid?.() === 0 ? ['--no-sandbox'] : [] });
const page = await browser.newPage();

for (const name of ['icon', 'file-run', 'file-recipe']) {
  const svg = readFileSync(join(resources, `${name}.svg`), 'utf8');
  const pictures = [];
  for (const size of sizes) {
    await page.setViewportSize({ width: size, height: size });
    await page.setContent(`<style>html,body{margin:0}svg{display:block;width:${size}px;height:${size}px}</style>${svg}`);
    pictures.push({ size, png: await page.screenshot({ omitBackground: true }) });
  }
  writeFileSync(join(resources, `${name}.ico`), icoFile(pictures.filter(({ size }) => size <= 256)));
  writeFileSync(join(resources, `${name}.icns`), icnsFile(pictures));
  if (name !== 'icon') continue;
  mkdirSync(join(resources, 'icons'), { recursive: true });
  for (const { size, png } of pictures.filter(({ size }) => [16, 32, 48, 64, 128, 256, 512].includes(size)))
    writeFileSync(join(resources, 'icons', `${size}x${size}.png`), png);
  writeFileSync(join(resources, 'icon.png'), pictures.find(({ size }) => size === 512).png);
}
await browser.close();
