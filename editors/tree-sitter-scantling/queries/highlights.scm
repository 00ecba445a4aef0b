; What is drawn in which colour. Of two patterns for a node, the later one holds.

(comment) @comment
(doc_comment) @comment.documentation
(file_comment) @comment.documentation

(text) @string
(date) @number
(number) @number
(inch_mark) @number
(foot_mark) @number
(index) @number
(truth) @boolean
(rest) @constant.builtin
(unread) @constant.builtin

(path (identifier) @variable)
(path (identifier) . (identifier) @variable.member)
(call function: (path (identifier) @function))

(property name: (identifier) @variable.member)
(declaration kind: (identifier) @type)
(declaration name: (identifier) @constructor)
(each_statement kind: (identifier) @type)
(let_statement name: (identifier) @constant)
(param_statement name: (identifier) @variable.parameter)
(type name: (identifier) @type.builtin)
(join_statement joint: (identifier) @constant.builtin)
(accept_statement slug: (identifier) @label)
(use_item name: (identifier) @type)
(use_item alias: (identifier) @type)

["(" ")" "[" "]" "{" "}"] @punctuation.bracket
["," "." ":"] @punctuation.delimiter
["+" "-" "*" "/" "<" "<=" ">" ">=" "==" "!=" "=" ".."] @operator
; words: operators
[
  "and" "not" "of" "or" "to" "x"
] @keyword.operator
; end of words
; words: conditionals
[
  "else" "if" "then"
] @keyword.conditional
; end of words
; words: statements
[
  "accept" "as" "because" "each" "join" "let" "measured" "param" "require" "use" "with"
] @keyword
; end of words
; words: kinds
((declaration kind: (identifier) @type.builtin)
  (#any-of? @type.builtin
    "adjustable" "back" "bay" "blocking" "board" "borer" "carcass" "caulk" "ceiling" "ceiling_panel" "clamp"
    "cleat" "coating" "contents" "corner" "counter" "crown" "door" "doors" "drawers" "edge" "end" "facing"
    "filler" "finish" "fits" "floor" "follow" "glue" "hinge" "hole" "item" "join" "lot" "module" "moulding"
    "nail" "obstacle" "offcut" "opening" "person" "pin" "plinth" "project" "pull" "rates" "reading" "room"
    "route" "router" "run" "saw" "screw" "scribe" "sheet" "shelf" "slide" "slope" "sold" "space" "stair"
    "stick" "stretcher" "studs" "tape" "thing" "toe" "top" "unit" "vehicle" "wall"
  ))
((each_statement kind: (identifier) @type.builtin)
  (#any-of? @type.builtin
    "adjustable" "back" "bay" "blocking" "board" "borer" "carcass" "caulk" "ceiling" "ceiling_panel" "clamp"
    "cleat" "coating" "contents" "corner" "counter" "crown" "door" "doors" "drawers" "edge" "end" "facing"
    "filler" "finish" "fits" "floor" "follow" "glue" "hinge" "hole" "item" "join" "lot" "module" "moulding"
    "nail" "obstacle" "offcut" "opening" "person" "pin" "plinth" "project" "pull" "rates" "reading" "room"
    "route" "router" "run" "saw" "screw" "scribe" "sheet" "shelf" "slide" "slope" "sold" "space" "stair"
    "stick" "stretcher" "studs" "tape" "thing" "toe" "top" "unit" "vehicle" "wall"
  ))
; end of words
; words: properties
((property name: (identifier) @property)
  (#any-of? @property
    "above" "against" "along" "at" "back" "base" "bead" "bearing" "before" "behind" "below" "between" "bit"
    "board" "bottles" "bottom" "bottom_rail" "box" "build" "cans" "carries" "cartridge" "casing" "caulk"
    "caulking" "ceiling" "clear" "coat" "coats" "count" "covering" "cup" "cut" "cuts" "dated" "day_begins"
    "day_ends" "decided" "density" "depth" "diameter" "divider" "easing" "edge" "ends" "entry" "every" "exit"
    "facing" "fall" "fence" "filler" "filling" "first" "fit" "fixing" "foot" "front" "full_load" "gap" "gauge"
    "glue" "going" "grain" "grommet" "groove" "guide" "hangs" "headroom" "height" "hinge" "hole_depth"
    "humidity" "hung" "in_clamps" "item" "joint" "joists" "kerf" "kind" "landing" "lap" "later" "leaf" "lean"
    "left" "left_back" "length" "lengths" "level" "light_load" "lining" "load" "loaded" "loss" "lot"
    "made_for" "margin" "marks" "moisture" "nail" "nominal" "off" "on" "on_hand" "onward" "open" "opens" "out"
    "over" "overlay" "packed" "paper" "pin" "pitch" "play" "plug" "price" "prices" "projection" "pull" "reach"
    "rear" "recessed" "reveal" "revision" "ribs" "right" "right_back" "rise" "roll" "sag" "sanding"
    "sanding_between" "screw" "set_back" "set_in" "shelves" "side" "size" "skim" "skip" "slack" "slide"
    "spacing" "span" "spare" "spares" "spoilt" "spread" "spring" "stages" "stand_on" "standing" "start" "step"
    "stiffness" "stile" "stock" "stood_up_under" "strip" "swell" "swing" "thickness" "through" "tolerance"
    "top_rail" "turn" "twist" "wait" "waste" "width" "without" "work" "year_built"
  ))
; end of words
; words: choices
((path . (identifier) @constant.builtin .)
  (#any-of? @constant.builtin
    "a4" "above" "across" "adult" "along" "back" "baseboard" "bedroom" "below" "books" "bottom" "bring_flush"
    "cased_opening" "casing" "chair_rail" "child_3" "child_5" "child_9" "cleat" "counter" "crown" "cut_round"
    "data" "door" "doors" "drawers" "edge" "far" "finished" "flat" "floor_register" "follow" "front" "half"
    "heater" "high" "hole" "in" "inset" "joists" "keep" "left" "length" "letter" "light" "low" "masonry"
    "middle" "near" "none" "open" "opposite" "other" "out" "outlet" "overlay" "pipe" "plinth" "plumb"
    "quarter" "rear" "remove" "return_grille" "right" "right_angle" "room" "shared" "sill" "slab"
    "smoke_alarm" "straight" "stretcher" "strict" "studs" "subfloor" "switch" "thermostat" "to_floor" "toe"
    "top" "trim" "usual" "wall" "wall_register" "whole" "window"
  ))
; end of words
; words: units
((unit) @type (#match? @type "^(bdft|days|floz|pint|GPa|MPa|day|deg|ft2|ft3|gal|in2|in3|min|mm2|psf|psi|cm|ft|in|kN|kg|lb|m2|m3|ml|mm|pt|qt|%|L|N|g|h|m|s|[A-Z]{3})(/(bdft|days|floz|pint|GPa|MPa|day|deg|ft2|ft3|gal|in2|in3|min|mm2|psf|psi|cm|ft|in|kN|kg|lb|m2|m3|ml|mm|pt|qt|%|L|N|g|h|m|s))?$"))
; end of words
