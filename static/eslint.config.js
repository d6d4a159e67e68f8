// SPDX-License-Identifier: Apache-2.0
import tseslint from "typescript-eslint";

// The rooms of the tablet, lowest first. A room imports itself and what stands on lines above it;
// rooms on one line never import one another.
const ROOMS = [
  ["records"],
  ["folds"],
  ["journal", "api"],
  ["sync"],
  ["definitions"],
  ["words"],
  ["widgets"],
  ["bench", "machine", "loads", "goods", "lead", "setup"],
  ["shell"],
];
const levelOf = new Map(ROOMS.flatMap((rooms, level) => rooms.map((room) => [room, level])));

function roomOf(path) {
  const found = /[\\/]static[\\/]src[\\/]([a-z_]+)[\\/]/.exec(path);
  return found ? found[1] : undefined;
}

const callsGoDown = {
  meta: { type: "problem", schema: [] },
  create(context) {
    const from = roomOf(context.filename);
    const check = (node) => {
      if (from === undefined || !node.source || !node.source.value.startsWith(".")) return;
      const target = new URL(node.source.value, `file://${context.filename}`).pathname;
      const to = roomOf(target);
      if (to === undefined || to === from) return;
      if (!levelOf.has(from) || !levelOf.has(to)) {
        context.report({
          node,
          message: `'${levelOf.has(from) ? to : from}' is not a room: add it to ROOMS.`,
        });
      } else if (levelOf.get(to) >= levelOf.get(from)) {
        context.report({ node, message: `'${from}' may not import '${to}': calls go down only.` });
      }
    };
    return {
      ImportDeclaration: check,
      ImportExpression: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
    };
  },
};

export default tseslint.config(
  { ignores: ["**/dist", "**/node_modules", "**/described.ts", "**/*.mjs"] },
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: {
      parserOptions: {
        project: [
          "./tsconfig.pure.json",
          "./tsconfig.worker.json",
          "./tsconfig.page.json",
          "./tsconfig.tests.json",
        ],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    plugins: { house: { rules: { "calls-go-down": callsGoDown } } },
    rules: {
      "house/calls-go-down": "error",
      "@typescript-eslint/restrict-template-expressions": [
        "error",
        { allowNumber: true, allowBoolean: true },
      ],
      "@typescript-eslint/no-confusing-void-expression": "off",
    },
  },
  { files: ["*.js", "vite.config.ts"], ...tseslint.configs.disableTypeChecked },
);
