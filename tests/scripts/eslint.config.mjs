import js from "@eslint/js";

// Names are checked by the types (tsconfig.json), so they are not looked for here.
export default [
  js.configs.recommended,
  {
    rules: {
      "no-undef": "off",
      "no-unused-vars": "off",
      "no-unused-expressions": ["error", { allowTernary: true, allowShortCircuit: true }],
      "no-var": "error",
      "prefer-const": ["error", { destructuring: "all" }],
      eqeqeq: ["error", "always", { null: "ignore" }],
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-new-func": "error",
      "no-restricted-syntax": [
        "error",
        {
          selector: "AssignmentExpression[left.property.name=/^(innerHTML|outerHTML)$/]",
          message: "Text goes in as text.",
        },
        { selector: "CallExpression[callee.property.name='insertAdjacentHTML']", message: "Text goes in as text." },
      ],
    },
  },
];
