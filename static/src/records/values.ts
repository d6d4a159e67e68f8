// SPDX-License-Identifier: Apache-2.0
// The values that records are made of, each the same as in the server's envelope.py.
import { dictionary, integer, oneOf, pattern, text } from "./shape.js";

export const LARGEST_INTEGER = Number.MAX_SAFE_INTEGER;

export const chainName = pattern(/^[a-z2-7]{26}$/);
export const recordId = pattern(/^[a-z2-7]{26}:[1-9][0-9]{0,15}$/);
export const hash = pattern(/^[0-9a-f]{64}$/);
export const number = integer(1, LARGEST_INTEGER);
export const count = integer(0, LARGEST_INTEGER);
export const amount = integer(-LARGEST_INTEGER, LARGEST_INTEGER);
export const milliseconds = integer(-LARGEST_INTEGER, LARGEST_INTEGER);
export const word = pattern(/^[a-z][a-z0-9_]{0,63}$/);
export const label = text(1, 200);
export const day = pattern(/^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$/);
export const translations = dictionary(/^[a-z]{2,3}$/, label);
export const defectClass = oneOf("critical", "major", "minor");
export const decimal = pattern(/^-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?$/);
export const printed = pattern(/^<?(0|[1-9][0-9]{0,2})(\.[0-9]{1,9})?$/);
export const share = pattern(/^(0|[1-9][0-9]{0,2})(\.[0-9]{1,9})?$/);
