# SPDX-License-Identifier: GPL-3.0-or-later
"""Values of the expressions in reports, to some 60 digits: enough of the plan language to compare texts with proofs."""
import ast
from decimal import Decimal, getcontext


class Unknown(Exception):
    """An expression that this evaluator does not know."""


def decimal_atan(x):
    """arctan of a Decimal: halve the angle until the series converges quickly."""
    if x < 0:
        return -decimal_atan(-x)
    doublings = 0
    while x > Decimal("0.01"):
        x, doublings = x / (1 + (1 + x * x).sqrt()), doublings + 1
    total, power, n = Decimal(0), x, 1
    while abs(power) > Decimal(10) ** -(getcontext().prec + 5):
        total += power / n
        power, n = -power * x * x, (n + 2 if n > 0 else n - 2)
    return total * 2 ** doublings


def decimal_atan_degrees(x):
    return decimal_atan(x) * 45 / decimal_atan(Decimal(1))


def decimal_cos(x):
    total, term, n = Decimal(0), Decimal(1), 0
    while abs(term) > Decimal(10) ** -(getcontext().prec + 5):
        total += term
        n += 2
        term = -term * x * x / (n * (n - 1))
    return total


def power(base, exponent):
    if exponent == exponent.to_integral_value():
        return base ** int(exponent)
    if base < 0:
        raise Unknown("a root of a negative number")
    return (base.ln() * exponent).exp() if base else Decimal(0)


def evaluate(text):
    pi = 4 * decimal_atan(Decimal(1))
    functions = {
        "sqrt": lambda x: x.sqrt(),
        "cbrt": lambda x: power(abs(x), Decimal(1) / 3).copy_sign(x),
        "abs": abs,
        "cos": decimal_cos,
        "sin": lambda x: decimal_cos(pi / 2 - x),
    }

    def value(node):
        if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
            return Decimal(str(node.value))
        if isinstance(node, ast.Name) and node.id == "pi":
            return pi
        if isinstance(node, ast.UnaryOp):
            return -value(node.operand) if isinstance(node.op, ast.USub) else value(node.operand)
        if isinstance(node, ast.BinOp):
            left, right = value(node.left), value(node.right)
            operations = {ast.Add: lambda: left + right, ast.Sub: lambda: left - right, ast.Mult: lambda: left * right,
                          ast.Div: lambda: left / right, ast.Pow: lambda: power(left, right)}
            if type(node.op) in operations:
                return operations[type(node.op)]()
        is_call = isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if is_call and node.func.id in functions and len(node.args) == 1:
            return functions[node.func.id](value(node.args[0]))
        raise Unknown(text)

    if any(c.isdigit() and text[i - 1:i] == "." for i, c in enumerate(text)):
        raise Unknown(text)  # exact texts carry no decimals but in root(..)
    try:
        return value(ast.parse(text.replace("^", "**"), mode="eval").body)
    except SyntaxError as problem:
        raise Unknown(text) from problem
