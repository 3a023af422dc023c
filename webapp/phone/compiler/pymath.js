function $fail(name, says) {
  const error = new Error(`${name}: ${says}`);
  error.name = name;
  throw error;
}
const math = (() => {
  // Python raises where JavaScript answers NaN or Infinity.
  const checked = (f) => (...values) => {
    const answer = f(...values);
    return Number.isNaN(answer) && !values.some(Number.isNaN)
      ? $fail('ValueError', 'math domain error')
      : answer;
  };
  const whole = (f) => (value) => {
    if (Number.isNaN(value)) $fail('ValueError', 'cannot convert float NaN to integer');
    if (!Number.isFinite(value)) $fail('OverflowError', 'cannot convert float infinity to integer');
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
