const math = (() => {
  const fail = (name, says) => {
    const error = new Error(`${name}: ${says}`);
    error.name = name;
    throw error;
  };
  // Python raises where JavaScript answers NaN or Infinity.
  const checked = (f) => (...values) => {
    const answer = f(...values);
    return Number.isNaN(answer) && !values.some(Number.isNaN)
      ? fail('ValueError', 'math domain error')
      : answer;
  };
  const whole = (f) => (value) => {
    if (Number.isNaN(value)) fail('ValueError', 'cannot convert float NaN to integer');
    if (!Number.isFinite(value)) fail('OverflowError', 'cannot convert float infinity to integer');
    return f(value) + 0; // no minus zero
  };
  const { PI, acos, asin, atan, atan2, ceil, cos, floor, sin, sqrt, tan } = Math;
  return {
    pi: PI,
    acos: checked(acos),
    asin: checked(asin),
    atan,
    atan2,
    ceil: whole(ceil),
    cos: checked(cos),
    floor: whole(floor),
    sin: checked(sin),
    sqrt: checked(sqrt),
    tan: checked(tan),
    degrees: (angle) => angle * (180 / PI),
    radians: (angle) => angle * (PI / 180),
  };
})();
// PScript's own takes a dict with a key `length` for a list.
const _pyfunc_truthy = (value) => {
  if (value === null || typeof value !== 'object') return value;
  return (Array.isArray(value) ? value.length : Object.keys(value).length) ? value : false;
};
// What a loop goes through: the values of a list, the letters of a text, the keys of a dict.
const _pyfunc_each = (values) => {
  if (Array.isArray(values)) return values;
  return typeof values === 'string' ? [...values] : Object.keys(values);
};
