// SPDX-License-Identifier: Apache-2.0
// Unpacks the browser that lies inside the npm package and prints where; tests/browser.py calls it.
import process from "node:process";

// The package unpacks its own libraries only where it believes to run on a bare machine of this name.
process.env.AWS_LAMBDA_JS_RUNTIME = "nodejs22.x";
const { default: chromium } = await import("@sparticuz/chromium");
process.stdout.write(await chromium.executablePath());
