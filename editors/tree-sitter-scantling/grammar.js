/**
 * The grammar of scantling for editors. The compiler reads by `grammar/scantling.pest`; this one reads every sound text as
 * that does, and is milder with the others.
 *
 * It knows no kind, no property and no unit, so that a new one needs no new parser: `queries/highlights.scm` has the lists.
 */

const WORD = /[A-Za-z_][A-Za-z0-9_]*/;

// From the weakest binding to the strongest.
const STRENGTH = { conditional: 0, or: 1, and: 2, not: 3, compare: 4, of: 5, to: 6, by: 7, sum: 8, product: 9, minus: 10 };

/** Entries of a block or a file, divided by newlines or commas. */
const divided = ($, entry) => seq(repeat(choice($._separator, seq(entry, $._separator))), optional(entry));

/** Members between commas; one more comma may follow the last. */
const listed = member => seq(member, repeat(seq(',', member)), optional(','));

module.exports = grammar({
  name: 'scantling',

  // A newline is a token where an entry may end, and blank everywhere else: inside ( ) and [ ], and behind an operator.
  extras: $ => [/[ \t\r\n]/, $.comment, $.doc_comment, $.file_comment],

  supertypes: $ => [$._statement, $._expression],

  rules: {
    source_file: $ => divided($, $._entry),

    block: $ => seq('{', divided($, $._entry), '}'),

    _separator: _ => choice('\n', ','),

    _entry: $ => choice($.property, $.declaration, $._statement),

    // ---- entries

    // The words that begin a statement are not reserved.
    property: $ => seq(
      field('name', choice(
        $.identifier,
        alias(choice('let', 'each', 'join', 'require', 'accept', 'measured', 'use', 'param'), $.identifier),
      )),
      '=',
      field('value', $._expression),
    ),

    declaration: $ => seq(
      field('kind', $.identifier),
      optional(field('name', $.identifier)),
      optional(field('label', $.text)),
      optional(field('body', $.block)),
    ),

    _statement: $ => choice(
      $.let_statement,
      $.each_statement,
      $.join_statement,
      $.require_statement,
      $.accept_statement,
      $.measured_statement,
      $.use_statement,
      $.param_statement,
    ),

    let_statement: $ => seq('let', field('name', $.identifier), '=', field('value', $._expression)),

    each_statement: $ => seq('each', field('kind', $.identifier), field('body', $.block)),

    join_statement: $ => seq(
      'join', field('guest', $.path), 'to', field('host', $.path), 'with', field('joint', $.identifier),
      optional(field('body', $.block)),
    ),

    require_statement: $ => seq('require', field('condition', $._expression), optional($.because)),

    accept_statement: $ => seq('accept', field('slug', $.identifier), optional($.because)),

    measured_statement: $ => seq(
      'measured', field('part', $.path), '=', field('value', $._expression), optional($.because),
    ),

    because: $ => seq('because', $.text),

    use_statement: $ => seq('use', field('from', choice($.text, $.path)), optional($.use_list)),

    use_list: $ => seq('{', divided($, $.use_item), '}'),

    use_item: $ => seq(field('name', $.identifier), optional(seq('as', field('alias', $.identifier)))),

    param_statement: $ => seq(
      'param', field('name', $.identifier), ':', field('type', $.type),
      optional(seq('=', field('default', $._expression))),
    ),

    // `length`, `length(>= 9")`, `count(1..12)`, `choice(a, b)`, `list(length)`.
    type: $ => seq(field('name', $.identifier), optional(seq('(', listed($._type_argument), ')'))),

    _type_argument: $ => choice($.bound, $.range, $.type, $.number, $.quantity, $.text),

    bound: $ => seq(choice('<', '<=', '>', '>='), $._range_end),

    range: $ => seq($._range_end, '..', $._range_end),

    _range_end: $ => choice($.number, $.quantity, $.path),

    // ---- expressions

    _expression: $ => choice(
      $.conditional, $.binary, $.unary, $.list, $.group, $.call, $.path,
      $.truth, $.rest, $.unread, $.date, $.quantity, $.number, $.text,
    ),

    conditional: $ => prec.right(STRENGTH.conditional, seq(
      'if', field('condition', $._expression),
      'then', field('consequence', $._expression),
      'else', field('alternative', $._expression),
    )),

    binary: $ => choice(...[
      ['or', STRENGTH.or],
      ['and', STRENGTH.and],
      [choice('<', '<=', '>', '>=', '==', '!='), STRENGTH.compare],
      ['of', STRENGTH.of],
      ['to', STRENGTH.to],
      ['x', STRENGTH.by],
      [choice('+', '-'), STRENGTH.sum],
      [choice('*', '/'), STRENGTH.product],
    ].map(([operator, strength]) => prec.left(strength, seq(
      field('left', $._expression), field('operator', operator), field('right', $._expression),
    )))),

    unary: $ => choice(
      prec(STRENGTH.not, seq(field('operator', 'not'), field('operand', $._expression))),
      prec(STRENGTH.minus, seq(field('operator', '-'), field('operand', $._expression))),
    ),

    list: $ => seq('[', optional(listed($._expression)), ']'),

    group: $ => seq('(', $._expression, ')'),

    call: $ => seq(field('function', $.path), '(', optional(listed($._expression)), ')'),

    truth: _ => choice('true', 'false'),
    rest: _ => 'rest',
    unread: _ => '?',

    // ---- names

    path: $ => prec.right(seq(
      $.identifier,
      repeat(choice(seq(token.immediate('.'), alias(token.immediate(WORD), $.identifier)), $._member)),
    )),

    _member: $ => seq(token.immediate('['), alias(token.immediate(/[0-9]+/), $.index), token.immediate(']')),

    identifier: _ => WORD,

    // ---- literals

    date: _ => /[0-9]{4}-[0-9]{2}-[0-9]{2}([ \t]+[0-9]{2}:[0-9]{2})?/,

    // A quote right behind a figure is an inch mark: `3/4"`, `7' 5 1/2"`.
    quantity: $ => seq(
      $.number,
      choice($.inch_mark, $.unit, seq($.foot_mark, optional(seq($.number, $.inch_mark)))),
    ),

    number: _ => token(choice(
      /([0-9]+[ \t]+)?[0-9]+\/[0-9]+/,
      /[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?/,
    )),

    inch_mark: _ => token.immediate(choice('"', '”', '″')),
    foot_mark: _ => token.immediate(choice("'", '’', '′')),

    unit: _ => token(choice('%', /[A-Za-z]+[0-9]?(\/[A-Za-z]+[0-9]?)?/)),

    text: _ => token(choice(/"(\\["\\]|[^"\\\n])*"/, /[“”][^”\n]*”/)),

    // ---- comments: no text fits two of them, since a stronger token would swallow the newline before it

    comment: _ => token(choice(/\/\/([^\/!\n][^\n]*)?/, /\/\/\/\/[^\n]*/)),
    doc_comment: _ => /\/\/\/([^\/\n][^\n]*)?/,
    file_comment: _ => /\/\/![^\n]*/,
  },
});
