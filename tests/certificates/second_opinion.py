# SPDX-License-Identifier: GPL-3.0-or-later
"""A numerical second opinion on certificates: PARI/GP works out lengths and angles from the edges alone to 300 digits, merges equal
angles, looks for small integer relations (lindep) and says whether the invariant is zero. It proves nothing; it must agree."""
import shutil
import subprocess

MOST_ANGLES = 16  # beyond, 300 digits leave too little room for relations

PROGRAM = r"""
default(realprecision, 308); default(parisizemax, "256M");
cross(u, v) = [u[2]*v[3]-u[3]*v[2], u[3]*v[1]-u[1]*v[3], u[1]*v[2]-u[2]*v[1]];
iszero(P, low, high, E) = {
  my(a, A = List(), L = List(), e, m, n, c, t, l, p = List(), s = List(), v, r, k, known);
  a = polrootsreal(P, [low, high])[1];
  for (i = 1, #E,
    e = subst(E[i][1], x, a); m = subst(E[i][2], x, a); n = subst(E[i][3], x, a); c = e*e~;
    t = arg(m*n~ + I*(cross(m, n)*e~)/sqrt(c)); l = -E[i][4]*sqrt(c);
    t -= Pi*round(t/Pi); if (t < 0, t = -t; l = -l);
    if (t < 1e-250, next);
    known = 0;
    for (j = 1, #A, if (abs(A[j] - t) < 1e-250, L[j] += l; known = 1; break));
    if (!known, listput(A, t); listput(L, l)));
  v = select(j -> abs(L[j]) > 1e-100, [1..#A]); A = vecextract(Vec(A), v); L = vecextract(Vec(L), v);
  if (#A > MOST, return (-1));
  for (j = 1, #A,
    v = concat([Vec(p), [Pi, A[j]]]); k = #v; r = lindep(v);
    if (#r == k && r[k] != 0 && vecmax(abs(r)) < 10^(150 / k) && abs(sum(i = 1, k, r[i]*v[i])) < 1e-250,
      for (i = 1, #p, s[i] -= L[j]*r[i]/r[k]),
      listput(p, A[j]); listput(s, L[j])));
  for (i = 1, #s, if (abs(s[i]) > 1e-100, return (0)));
  1
};
""".replace("MOST", str(MOST_ANGLES))


def polynomial(coefficients):
    return "+".join(f"({c})*x^{i}" for i, c in enumerate(coefficients)) or "0"


def question(certificate):
    def vector(v):
        return "[" + ",".join(map(polynomial, v)) + "]"

    edges = ",".join(f"[{vector(e['edge'])},{vector(e['first'])},{vector(e['second'])},{e['times']}]" for e in certificate["edges"])
    field = certificate["field"]
    low, high = field["root_between"]
    return f"print(iszero({polynomial(field['minimal_polynomial'])},{low},{high},[{edges}]))\n"


def is_long(certificate):
    """Numbers of very many digits, which may cancel until 300 digits say nothing any more."""
    return any(len(text) > 80 for e in certificate["edges"] for key in ("edge", "first", "second") for v in e[key] for text in v)


def available():
    return shutil.which("gp") is not None


def zeros(certificates):
    """For each certificate True, False, or None where angles are too many or numbers too long to say."""
    asked = ["print(-1)\n" if is_long(each) else question(each) for each in certificates]
    script = PROGRAM + "".join(asked) + "quit\n"
    done = subprocess.run(["gp", "-q", "-f", "-s", "64M"], input=script, capture_output=True, text=True)
    answers = done.stdout.split()
    assert len(answers) == len(certificates), f"gp answered {done.stdout[-300:]!r} {done.stderr[-300:]!r}"
    return [{"1": True, "0": False, "-1": None}[answer] for answer in answers]
