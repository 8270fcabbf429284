// Made of src/desk/wire.rs and of the layout file's schema; a test fails where it differs.
// To make it anew: ANSATA_WRITE_TYPES=1 cargo test --release --lib types_of_the_page

/** Any value of the layout file. */
export type Value = null | boolean | number | string | Value[] | { [key: string]: Value };

/** The way to a value. */
export type Path = Step[];

/** The answer to changes, and to undo and redo. */
export interface Answer {
  /** How everything stands now. */
  bench: Bench;
  /** A value that somebody else has changed meanwhile. */
  clash: Clash | null;
  /** What was kept. */
  kept: Kept;
  /** Why changes were not kept. */
  mistakes: Mistake[];
}

/** What the page asks for: changes that belong together. */
export interface Asked {
  /** New changes, kept together or not at all. */
  changes: Change[];
  /** Changes that follow each other with the same word here are undone in one step. */
  stroke?: string | null;
  /** Changes that were not kept before, such as a shape whose corner was missing: they are tried again with the new ones. */
  waiting?: Change[];
}

/** How a layout stands: all that the page shows. */
export interface Bench {
  /** Why the file cannot be understood; then all that follows is empty. */
  mistakes: Mistake[];
  /** File name of the layout. */
  name: string;
  /** What it makes. */
  plaque: Plaque | null;
  /** Whether something can be done again. */
  redo: boolean;
  /** The file's text. */
  text: string;
  /** Whether something can be undone. */
  undo: boolean;
  /** Its values; null where it is no TOML at all. */
  values: unknown;
  /** Rises with every change of the file or of what lies beside it: an answer with a lower number than the one shown is stale. */
  version: number;
}

/** One change of the layout file. `was` is what the page showed there when it was made (null where nothing was): if the file holds something else by now, the change is a clash and is not kept. Without `was` nothing is compared. */
export type Change = {
  do: "set";
  /** Which value. */
  path: Step[];
  /** What it becomes. */
  to: unknown;
  /** What it was. */
  was?: unknown;
} | {
  do: "remove";
  /** Which. */
  path: Step[];
  /** What it was. */
  was?: unknown;
} | {
  do: "insert";
  /** The list's path and the index. */
  path: Step[];
  /** The entry. */
  to: unknown;
} | {
  do: "move";
  /** Which entry. */
  path: Step[];
  /** Its index afterwards. */
  to: number;
} | {
  do: "text";
  /** All of it. */
  to: string;
  /** What it was. */
  was?: string | null;
};

/** Something to choose, with its picture. */
export interface Choice {
  /** What is to be said of it. */
  about: string;
  /** The changes that choose it, for the page to send back. */
  changes: CureChange[];
  /** What it is called. */
  name: string;
  /** How it looks. */
  picture: Picture | null;
  /** Keys that have to go. */
  remove: Step[][];
}

/** A value that is no longer what the page showed. */
export interface Clash {
  /** What it is now; null where nothing is. */
  now: unknown;
  /** Which. */
  path: Step[];
}

/** A proved cure of a finding. */
export interface Cure {
  /** The changes that do it. */
  changes: CureChange[];
  /** Index into the findings. */
  finding: number;
  /** What to do, with its number. */
  message: string;
}

/** A value that a cure or a choice sets, as a change of the kind `set`, for the page to send back. */
export interface CureChange {
  /** Always `set`. */
  do: "set";
  /** Which value. */
  path: Step[];
  /** What it becomes. */
  to: unknown;
}

/** Proved cures for the findings of one version. */
export interface Cures {
  /** All of them, the least change first. */
  cures: Cure[];
  /** The version that they belong to. */
  version: number;
}

/** A layout, a starter, an earlier version: something with a name. */
export interface Entry {
  /** What it is called, or when it was kept (milliseconds since 1970, as text). */
  about: string;
  /** Its name. */
  name: string;
}

/** A file that can be had from the page. */
export interface File {
  /** Its name. */
  name: string;
  /** For whom. */
  reader: string;
  /** What it is for. */
  what: string;
}

/** The files of one version. */
export interface Files {
  /** All of them. */
  files: File[];
  /** The version that they are made of. */
  version: number;
}

/** One thing noticed. */
export interface Finding {
  /** The reason why it was accepted. */
  accepted: string | null;
  /** Whether it could be. */
  can_accept: boolean;
  /** Its name, stable between versions. */
  code: string;
  /** What was measured, as `accept` wants it. */
  measured: number | null;
  /** The sentence. */
  message: string;
  /** The key that it speaks of, as near as it is known. */
  path: Step[];
  /** The place as `accept` wants it, such as `line.2`. */
  place: string;
  /** The rule and whose it is. */
  rule: string;
  /** `stop`, `caution` or `note`. */
  severity: string;
}

/** What the desk holds. */
export interface Folder {
  /** The folder as it was named. */
  folder: string;
  /** Its layouts. */
  layouts: Entry[];
  /** The layout that the desk was opened with. */
  opened: string | null;
  /** Shipped layouts to begin with. */
  starters: Entry[];
}

/** What became of changes. */
export type Kept = "all" | "new" | "none";

/** What a plaque is to be: inscription, plate, lettering, mount. */
export interface Layout {
  /** Findings accepted by name, each with a reason that is printed. */
  accept?: ({
    /** The finding, as the report calls it. */
    code: Note;
    /** What was measured, in the finding's unit. */
    measured?: number;
    /** Why; it is printed on the proof. */
    reason: Note;
    /** The place that the finding names. */
    where: Note;
  })[];
  /** Version of the layout file. */
  ansata: 1;
  /** Ornaments in the four corners of the plate. */
  corners?: {
    /** White from it to lettering. It may be 0 mm to 200 mm. */
    gap?: Length;
    /** From the bevel's inner edge to it. It may be 0 mm to 200 mm. */
    inset?: Length;
    /** Which. */
    ornament: "quarter round" | "bracket" | "leaf";
    /** Side of the square that each one fills. It may be 1 mm to 1000 mm. */
    size: Length;
    /** Thickness of its lines. It may be 0.05 mm to 20 mm. */
    weight?: Length;
  };
  /** How the letters are made and read. */
  engraving?: {
    /** Letters cut in, or left standing. */
    cut?: "incised" | "raised";
    /** The cutter that the strokes of the letters are judged by. */
    cutter?: {
      /** Angle between its flanks, degrees, 1 to 170. */
      angle?: number;
      /** How deep it cuts, with `angle`: the cut is tip + 2 x depth x tan(angle / 2) wide. It may be 0.01 mm to 20 mm. */
      depth?: Length;
      /** Width of its tip: the narrowest cut. It may be 0.01 mm to 20 mm. */
      tip: Length;
    };
    /** Paint in the letters. */
    fill?: "none" | "black" | "white" | "red" | "blue" | "green";
    /** The side it is made from; from behind the artwork is mirrored, to be read through a clear plate. */
    from?: "front" | "behind";
    /** Least width of what is left standing between cuts. It may be 0.01 mm to 20 mm. */
    least_land?: Length;
    /** How the letters are made. */
    process?: "rotary" | "drag" | "burnished" | "fibre laser" | "co2 laser" | "etched" | "sandblasted" | "cast" | "hand cut" | "printed";
    /** Reading distance: how far off it is read. It may be 100 mm to 20000 mm. */
    read_from?: Length;
  };
  /** The trophy face that the plate goes on. */
  face?: {
    /** How the board was cut from the log. */
    cut?: "flat sawn" | "quarter sawn";
    /** Diameter of a circle. It may be 5 mm to 5000 mm. */
    diameter?: Length;
    /** Width of a trapezium at its foot. It may be 5 mm to 5000 mm. */
    foot?: Length;
    /** The way the grain runs; wood moves across it. */
    grain?: "vertical" | "horizontal";
    /** Height of a trapezium. It may be 5 mm to 5000 mm. */
    height?: Length;
    /** What it is made of. */
    material: "hardwood" | "softwood" | "black walnut" | "white oak" | "red oak" | "hard maple" | "black cherry" | "yellow birch" | "white ash" | "beech" | "douglas fir" | "white pine" | "white fir" | "mahogany" | "teak" | "mdf" | "plywood" | "chipboard" | "veneered board" | "veneered wood" | "stone" | "metal" | "resin" | "hollow";
    /** Driest and dampest that the wood will live through, 6 % to 14 %; where it is left out 6 % and 10 %. */
    moisture?: [string, string];
    /** Holes that are already in the face. */
    old_holes?: ({
      /** Its centre: from the face's left and top edges; where the plate is set by a mark, to the right of the mark and below it, with a minus to the left or above. */
      at: [string, string];
      /** Its diameter at the surface. It may be 0.3 mm to 50 mm. */
      diameter: Length;
      /** Whether it is filled with a glued plug of wood. */
      plugged?: boolean;
    })[];
    /** Where the plate goes on it; centred where nothing is said. */
    place?: {
      /** From the face's bottom edge to the plate's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
      from_bottom?: Length;
      /** From the face's left edge to the plate's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
      from_left?: Length;
      /** From the face's right edge to the plate's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
      from_right?: Length;
      /** From the face's top edge to the plate's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
      from_top?: Length;
      /** A mark that the face bears already: which point of the plate is set on it. */
      mark?: "centre" | "top left corner" | "top right corner" | "bottom left corner" | "bottom right corner" | "middle of the top edge" | "middle of the bottom edge" | "middle of the left edge" | "middle of the right edge" | [Length, Length];
      /** Where the mark is, from the face's left and top: only where the face's size is told, for the checks. */
      mark_at?: [Length, Length];
    };
    /** Corners of the face in their order, from the top left corner of their box. */
    points?: ([Length, Length])[];
    /** A recess that the plate is let into; the plate stands in its middle. */
    recess?: {
      /** Radius of its corners; square where it is left out. It may be 0.1 mm to 1000 mm. */
      corner?: Length;
      /** Depth. It may be 0.1 mm to 100 mm. */
      depth: Length;
      /** Diameter of a round recess. It may be 5 mm to 2000 mm. */
      diameter?: Length;
      /** Wanted all round the plate, so that it goes in. It may be 0 mm to 10 mm. */
      gap?: Length;
      /** Where it is on the face; centred where nothing is said. */
      place?: {
        /** From the face's bottom edge to the recess's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
        from_bottom?: Length;
        /** From the face's left edge to the recess's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
        from_left?: Length;
        /** From the face's right edge to the recess's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
        from_right?: Length;
        /** From the face's top edge to the recess's; the edges are those of the box round the face. It may be 0 mm to 5000 mm. */
        from_top?: Length;
      };
      /** Width x height of an upright recess. It may be 5 mm to 2000 mm. */
      size?: Size;
    };
    /** How near an old hole may be to a new one, centre to centre, for both to be one. It may be 0 mm to 2 mm. */
    same_hole?: Length;
    /** Its outline. */
    shape?: "rectangle" | "trapezium" | "circle" | "points";
    /** Width x height of an upright face. It may be 5 mm to 5000 mm. */
    size?: Size;
    /** How a leaning face leans, instead of its height: its true height in its own plane is worked out, and the sheets lie in that plane. */
    slope?: {
      /** Plumb height. It may be 5 mm to 5000 mm. */
      rise: Length;
      /** How far the top stands back. It may be 0 mm to 5000 mm. */
      run: Length;
    };
    /** Thickness of what is behind the plate; needed where the fixing goes into it. It may be 1 mm to 500 mm. */
    thickness?: Length;
    /** Width of a trapezium at its top. It may be 5 mm to 5000 mm. */
    top?: Length;
    /** Moulding or trim that the plate stays clear of, from the face's edge inwards. */
    trim?: {
      /** Its width along the bottom. It may be 0 mm to 1000 mm. */
      bottom?: Length;
      /** From the trim to the plate. It may be 0 mm to 100 mm. */
      gap?: Length;
      /** Its width along the left. It may be 0 mm to 1000 mm. */
      left?: Length;
      /** Its width along the right. It may be 0 mm to 1000 mm. */
      right?: Length;
      /** Its width along the top. It may be 0 mm to 1000 mm. */
      top?: Length;
      /** Its width all round. It may be 0 mm to 1000 mm. */
      width?: Length;
    };
    /** Width of an upright face that leans. It may be 5 mm to 5000 mm. */
    width?: Length;
  };
  /** How the fit goes about it. */
  fit?: {
    /** Share of the largest lettering possible that is used, 1 % to 100 %. */
    ease?: string;
    /** Whether words of lines that do not say may be divided; at soft hyphens: where a \u00AD stands in the wording, nowhere else. */
    hyphens?: "never" | "at soft hyphens";
    /** How heights are found: one scale for all lines, or each as stated. */
    mode?: "even" | "full" | "fixed";
  };
  /** Lettering. */
  lettering?: {
    /** Whether letters are set as written; the wording itself is never altered. */
    case?: "as written" | "capitals" | "capitals with ẞ";
    /** Lettering of every line that names none; `ansata lettering` lists them. */
    default: Lettering;
    /** Language of the wording, as a code such as cy, el or tr: for capitals, quotes and the forms that a lettering has for it. */
    language?: string;
    /** Further lettering for what the lettering lacks, in the order in which it is tried, whole stretches of one script at a time. */
    others?: Lettering[];
    /** Whether straight quotes are set as those of the language. */
    quotes?: "as written" | "typographic";
  };
  /** The inscription, line by line. */
  line?: ({
    /** Which edge of its rows is lined up; left and right are sides of the plate. */
    align?: "centre" | "left" | "right";
    /** Least cap height. It may be 0.1 mm to 1000 mm. */
    at_least?: Length;
    /** Greatest cap height. It may be 0.1 mm to 1000 mm. */
    at_most?: Length;
    /** When the line may be broken: last resort for up to six words, else free. */
    breaks?: "free" | "last resort" | "never";
    /** Stated cap height: floor, ceiling and size in one. It may be 0.1 mm to 1000 mm. */
    cap_height?: Length;
    /** Whether letters are set as written; the wording itself is never altered. */
    case?: "as written" | "capitals" | "capitals with ẞ";
    /** What stands in the line instead of words. */
    divider?: "rule" | "swelled rule" | "double rule" | "lozenge rule" | "dotted rule";
    /** What stands in the line instead of words. */
    emblem?: "bell" | "star" | "crescent" | "lozenge" | "laurel" | "telescope" | {
      /** Path of the file, from the layout's folder. */
      file: Note;
      /** Who allowed it to be engraved, when and how; printed on the proof. */
      permission?: Note;
    };
    /** OpenType features for the whole line, as HarfBuzz writes them. */
    features?: string[];
    /** Widths of figures. */
    figure_widths?: "proportional" | "tabular";
    /** Forms of figures. */
    figures?: "lining" | "old-style";
    /** Stated height of the emblem. It may be 0.1 mm to 1000 mm. */
    height?: Length;
    /** Whether its words may be divided, as under [fit]. */
    hyphens?: "never" | "at soft hyphens";
    /** Words of the text that are never torn apart. */
    keep?: string[];
    /** Language of the wording, as a code such as cy, el or tr: for capitals, quotes and the forms that a lettering has for it. */
    language?: string;
    /** Baseline to baseline, in cap heights. */
    leading?: number;
    /** Lettering of this line alone. */
    lettering?: Lettering;
    /** Whether letters may join into ligatures. */
    ligatures?: boolean;
    /** Share of its drawn width down to which the line may be narrowed on a width axis, to reach its height. */
    narrow_to?: string;
    /** Further lettering for what the lettering lacks, in the order in which it is tried, whole stretches of one script at a time. */
    others?: Lettering[];
    /** Whether straight quotes are set as those of the language. */
    quotes?: "as written" | "typographic";
    /** Cap height relative to other lines. */
    size?: number;
    /** Letters set as small capitals, where the lettering has them. */
    small_capitals?: "lower case" | "all letters";
    /** White above it beyond leading, in cap heights. */
    space?: number;
    /** Stylistic sets of the lettering, by number. */
    stylistic_sets?: number[];
    /** The exact wording; \n in it is a break of your own, which holds. */
    text?: string;
    /** White added between neighbouring capitals where there is width to spare, at most; in cap heights. */
    tracking?: string;
    /** Thickness of the divider's line. It may be 0.05 mm to 20 mm. */
    weight?: Length;
    /** Width of the divider. */
    width?: Length | string;
  })[];
  /** How the plate is fixed. */
  mount?: {
    /** What holds the plate. */
    fixing?: {
      /** A cover cap over the head: its diameter, which then counts as the head. It may be 2 mm to 100 mm. */
      cap?: Length;
      /** Number that screws are sold by. */
      gauge: number;
      /** Shape of its head. */
      head: "flat" | "oval" | "round";
      /** Kind of fixing. */
      kind: "wood screw";
      /** Length as screws are sold. It may be 2 mm to 150 mm. */
      length: Length;
      /** What the screw is made of: it decides the pilot hole in hardwood. Where it is left out the pilot is that of a steel screw. */
      metal?: "brass" | "steel" | "stainless steel";
    } | {
      /** How wide its hole is (ISO 273). */
      fit?: "fine" | "medium" | "coarse";
      /** Shape of its head; domes from M3 on. */
      head: "countersunk" | "pan" | "dome";
      /** Hole that the insert's maker asks for. It may be 1 mm to 50 mm. */
      insert_bore?: Length;
      /** How deep the insert sits. It may be 1 mm to 100 mm. */
      insert_depth?: Length;
      /** What it is turned into: a threaded insert in the face, a nut behind it, or a thread cut into a metal face. */
      into: "insert" | "nut" | "tapped hole";
      /** Kind of fixing. */
      kind: "machine screw";
      /** Length as screws are sold. It may be 2 mm to 150 mm. */
      length: Length;
      /** Its thread: ISO metric, coarse. */
      thread: "M1.6" | "M2" | "M2.5" | "M3" | "M3.5" | "M4" | "M5" | "M6";
    } | {
      /** Across its head, more than the shank. It may be 0.5 mm to 20 mm. */
      head: Length;
      /** Kind of fixing. */
      kind: "pin";
      /** Length under the head. It may be 2 mm to 150 mm. */
      length: Length;
      /** The pin's thickness. It may be 0.3 mm to 6 mm. */
      shank: Length;
    } | {
      /** Hole for the stud in the face; where it is left out 0.4 mm more than the stud. It may be 1 mm to 50 mm. */
      bore?: Length;
      /** The stud's thickness. It may be 1 mm to 20 mm. */
      diameter: Length;
      /** Kind of fixing. */
      kind: "rear stud";
      /** How far it stands out behind the plate. It may be 2 mm to 150 mm. */
      length: Length;
    } | {
      /** Across its cap. It may be 2 mm to 100 mm. */
      cap: Length;
      /** Number that screws are sold by. */
      gauge: number;
      /** Hole through the plate, as its maker says. It may be 1 mm to 50 mm. */
      hole: Length;
      /** Kind of fixing. */
      kind: "standoff";
      /** How far its wood screw reaches out of the barrel's foot. It may be 2 mm to 150 mm. */
      length: Length;
      /** What the screw is made of: it decides the pilot hole in hardwood. Where it is left out the pilot is that of a steel screw. */
      metal?: "brass" | "steel" | "stainless steel";
      /** From the face to the plate's back. It may be 1 mm to 200 mm. */
      off: Length;
    } | {
      /** Kind of fixing. */
      kind: "tape";
      /** How many strips. */
      strips?: number;
      /** Width of a strip. It may be 2 mm to 500 mm. */
      width?: Length;
    };
    /** How far a fixing gives way before the wood's movement matters. It may be 0 mm to 5 mm. */
    give?: Length;
    /** Where the holes are; auto chooses by the plate's shape, size, thickness and weight. Where it is left out none, but in the handles of an ansate plate that is screwed or pinned. */
    holes?: "none" | "four corners" | "two sides" | "top and bottom" | "in the handles" | "auto" | {
      /** A hole at each of these points. */
      points: ([Length, Length])[];
    } | {
      /** The edge or the two edges. */
      along: "top" | "bottom" | "left" | "right" | "top and bottom" | "left and right";
      /** How many along each edge. */
      count: number;
    } | {
      /** Diameter of the circle through them. It may be 1 mm to 2000 mm. */
      circle: Length;
      /** How many on the circle. */
      count: number;
      /** Where the first stands. */
      first?: "at the top" | "beside the top";
    };
    /** From the plate's edges to the hole centres; where it is left out 8 mm, in handles the middle, with auto by size. It may be 0.5 mm to 1000 mm. */
    inset?: Length;
    /** Whether holes are drawn out, so that the wood behind the plate can move. */
    slots?: "none" | "across the grain";
  };
  /** Photographs on the plate. */
  photo?: ({
    /** Radius of the corners of a rounded one. It may be 0.1 mm to 500 mm. */
    corner?: Length;
    /** Who took it; printed on the proof. */
    credit?: Note;
    /** The credit as a small line under it. */
    engrave_credit?: {
      /** Its cap height. It may be 0.1 mm to 1000 mm. */
      cap_height: Length;
    };
    /** Path of a JPEG, PNG, TIFF or WebP file, from the layout's folder. */
    file: Note;
    /** The point that the crop is centred on: shares from the left, from the top. */
    focus?: [number, number];
    /** A line engraved round it. */
    frame?: {
      /** From the photograph to the line. It may be 0 mm to 200 mm. */
      gap?: Length;
      /** Its width. It may be 0.05 mm to 20 mm. */
      weight?: Length;
    };
    /** White from it to lettering. It may be 0 mm to 200 mm. */
    gap?: Length;
    /** Whether it is printed in grey. */
    grey?: boolean;
    /** A box that must not be cut: left, top, right, bottom as shares of the picture. */
    heads?: [number, number, number, number];
    /** Its height. It may be 3 mm to 1000 mm. */
    height?: Length;
    /** A piece of its own that is set into the plate. */
    inset?: {
      /** Between piece and pocket all round. It may be 0 mm to 2 mm. */
      gap?: Length;
      /** Its thickness, which is the depth of its pocket. It may be 0.1 mm to 20 mm. */
      thickness: Length;
    };
    /** Cap height that every line keeps beside a photograph as large as the wording allows; its floor where this is left out. It may be 0.1 mm to 1000 mm. */
    keeps?: Length;
    /** Where lettering may stand on account of it: in what is left of the field from edge to edge, or close round its outline. */
    lettering?: "beside it" | "round it";
    /** Who allowed it to be used, when and how; without it no artwork is made. */
    permission?: Note;
    /** Where it stands: at a side of the field, where it is best, or at a point. */
    place?: "left" | "right" | "top" | "bottom" | "auto" | {
      /** Its centre: from the plate's left edge, from its top edge. */
      at: [Length, Length];
    };
    /** How it is made; as the lettering where it is left out. */
    process?: "rotary" | "drag" | "burnished" | "fibre laser" | "co2 laser" | "etched" | "sandblasted" | "cast" | "hand cut" | "printed";
    /** Width to height, such as 3:4; that of the picture where it is left out. */
    proportion?: string;
    /** How grey is made of marks of one tone. */
    screen?: {
      /** Angle of the rows, degrees anticlockwise from level. */
      angle?: number;
      /** What kind of marks. */
      kind: "scattered dots" | "dots" | "lines";
      /** From row to row, or from line to line. It may be 0.05 mm to 1 mm. */
      pitch?: Length;
      /** By which published weights dots are scattered. */
      weights?: "Floyd-Steinberg" | "Jarvis-Judice-Ninke" | "Stucki";
    };
    /** Its outline. */
    shape?: "rectangle" | "rounded" | "oval" | "circle" | "arch";
    /** From dot to dot as the machine sets them. It may be 0.005 mm to 1 mm. */
    step?: Length;
    /** How levels are changed first. */
    tone?: {
      /** Clip limit of local contrast; it can blotch faces, so it is off where it is left out. */
      local_contrast?: number;
      /** What the level half way from black to white becomes, as a share of white; 0.5 leaves it. */
      midtone?: number;
      /** How much edges are sharpened. */
      sharpen?: number;
      /** Share of the pixels that may become black, and the same white, as levels are stretched. */
      stretch?: number;
    };
    /** Its width. */
    width?: Length | "as large as the wording allows";
    /** How far the crop goes in. */
    zoom?: number;
  })[];
  /** The metal, or what else it is of. */
  plate: {
    /** Width of the bevel, less than half the short side. It may be 0 mm to 1000 mm. */
    bevel?: Length;
    /** Lines drawn round the plate. */
    border?: {
      /** What it does where a hole is in its way; where it is left out stop short, on an ansate plate holes outside. */
      at_holes?: "stop short" | "step in" | "holes outside";
      /** Middle to middle of two lines; where it is left out 1 mm, or twice the weight. It may be 0 mm to 1000 mm. */
      gap?: Length;
      /** From the bevel to the outer line's middle. It may be 0 mm to 1000 mm. */
      inset: Length;
      /** One line or two. */
      lines?: number;
      /** Width of a line. It may be 0.05 mm to 5 mm. */
      weight?: Length;
    };
    /** Colour of a laminate's surface; where both are left out, white over black. */
    cap?: "black" | "white" | "grey" | "red" | "blue" | "green" | "yellow" | "cream" | "brown" | "gold" | "silver";
    /** What lies on it, clear lacquer apart; where it is left out it is bare. */
    coating?: "paint" | "anodised" | "silver plate" | "nickel plate" | "marking compound";
    /** Colour of a plastic all through, or of a coat of paint or an anodised one; where it is left out acrylic is clear, pvc white, paint black, an anodised coat silver. */
    colour?: "black" | "white" | "grey" | "red" | "blue" | "green" | "yellow" | "cream" | "brown" | "gold" | "silver";
    /** Colour of a laminate beneath its cap, which the letters show. */
    core?: "black" | "white" | "grey" | "red" | "blue" | "green" | "yellow" | "cream" | "brown" | "gold" | "silver";
    /** Radius of the corners of a rounded plate, or of the quarter circles that are cut out of those of a notched one. It may be 0.1 mm to 1000 mm. */
    corner?: Length;
    /** Its surface; where it is left out matt on slate and wood, else polished. */
    finish?: "polished" | "satin" | "lacquered" | "matt";
    /** The two dovetails of an ansate plate. */
    handles?: {
      /** How far lettering reaches. */
      lettering?: "between the handles" | "into the handles";
      /** Height where it joins the tablet; where it is left out 0.3 of the plate's. It may be 1 mm to 2000 mm. */
      root?: Length;
      /** Height at its outer end; where it is left out 0.6 of the plate's. It may be 1 mm to 2000 mm. */
      tip?: Length;
      /** How far each stands out; where it is left out a quarter of the plate's height, at most a sixth of its width. It may be 1 mm to 800 mm. */
      width?: Length;
    };
    /** From the bevel's inner edge to the nearest ink; where it is left out a twentieth of the short side, at least 3 mm. It may be 0 mm to 1000 mm. */
    margin?: Length;
    /** What it is made of. */
    material: "brass" | "bronze" | "copper" | "aluminium" | "stainless steel" | "laminate" | "acrylic" | "pvc" | "glass" | "slate" | "black walnut" | "black cherry" | "white oak" | "hard maple";
    /** Corners of the plate in their order, from the top left corner of their box. */
    points?: ([Length, Length])[];
    /** How many are made. */
    quantity?: number;
    /** From the plate to the face's edge or trim all round, where the size is from the face. It may be 0 mm to 1000 mm. */
    reveal?: Length;
    /** Height of an arch's round head; where it is left out half the width. It may be 0.1 mm to 1000 mm. */
    rise?: Length;
    /** The outline. */
    shape?: "rectangle" | "rounded" | "notched" | "oval" | "circle" | "arch" | "ansate" | "points";
    /** Width x height over all, or "from face": the largest plate in whole millimetres (or eighths of an inch) for which the face has room. */
    size?: Size | "from face";
    /** Thickness. It may be 0.1 mm to 25 mm. */
    thickness?: Length;
  };
  /** What is printed beside the plaque. */
  proof?: {
    /** For whom the plaque is made. */
    client?: Note;
    /** Date of the proof, as ISO 8601 writes it. */
    date?: string;
    /** Number of this proof. */
    number?: number;
    /** Paper of the sheets; where it is left out the shop's, else Letter for a layout in inches and A4 for others. A pattern that is larger goes over several pages of it; proof and mock-up take a larger sheet. */
    paper?: "A4" | "A3" | "Letter" | "Legal" | "Tabloid";
    /** What this proof replaces. */
    replaces?: Note;
    /** Roles that sign the proof. */
    signatures?: Note[];
    /** Who answers for the spelling. */
    spelling?: Note;
  };
  /** What the work is called. */
  title: Note;
  /** The client's text as they sent it: path of a file, each line of which is a line of the inscription. */
  wording?: Note;
}

export type Length = string;

export type Lettering = LetteringName | {
  /** Path of the file, from the layout's folder. */
  file?: Note;
  /** Which face of a collection, from 0. */
  index?: number;
  /** Name of a shipped lettering. */
  name?: LetteringName;
  /** Size it is drawn for: a word, or points; small is sturdy. */
  optical_size?: number | "caption" | "text" | "display" | "poster";
  /** Thickness of the strokes: a word, or such as 400 (regular). */
  weight?: number | "thin" | "extra light" | "light" | "regular" | "medium" | "semibold" | "bold" | "extra bold" | "black";
  /** Width as drawn: a word, or per cent of the normal width. */
  width?: number | "extra narrow" | "narrow" | "slightly narrow" | "normal" | "slightly wide" | "wide";
};

export type LetteringName = "Cinzel" | "Cinzel Bold" | "EB Garamond" | "EB Garamond Bold" | "EB Garamond Italic" | "Libre Baskerville" | "Libre Baskerville Bold" | "Libre Baskerville Italic" | "Besley" | "Besley Italic" | "Besley Bold" | "Archivo" | "Archivo Bold" | "Archivo Narrow" | "Archivo Wide" | "Atkinson Hyperlegible" | "Atkinson Hyperlegible Italic" | "Atkinson Hyperlegible Bold" | "Atkinson Hyperlegible Bold Italic" | "Great Vibes" | "Frank Ruhl Libre" | "Frank Ruhl Libre Bold" | "Marcellus" | "Bodoni Moda" | "Bodoni Moda Bold" | "Bodoni Moda Italic" | "Roboto Slab" | "Roboto Slab Bold" | "Roboto" | "Roboto Bold" | "Roboto Narrow" | "Cabin" | "Cabin Bold" | "Cabin Italic" | "Jost" | "Jost Bold" | "Jost Italic" | "Oswald" | "Oswald Bold" | "Pinyon Script" | "Yellowtail" | "UnifrakturMaguntia" | "Berenika" | "Berenika Bold" | "Amiri" | "Amiri Bold" | "Noto Sans Devanagari" | "Noto Sans Devanagari Bold" | "EMS Readability" | "EMS Readability Italic" | "EMS Nixish" | "EMS Allure" | "Hershey Sans";

/** A line of the inscription as it stands on the plate. */
export interface Line {
  /** Cap height, mm; of a drawing its height. */
  cap_height: number;
  /** Its least cap height, mm. */
  floor: number;
  /** The lettering that it is set in. */
  lettering: string;
  /** The drawing that it holds instead of words, such as "bell". */
  ornament: string | null;
  /** Its rows as one reads them. */
  rows: string[];
  /** Its wording as the layout, or the file of wording, gives it. */
  text: string;
  /** Sentences: what set its height, and where it may not be broken and why. */
  why: string[];
  /** x-height, mm. */
  x_height: number | null;
}

/** Something that cannot be understood. */
export interface Mistake {
  /** Column in characters, from 1; 0 where it has none. */
  column: number;
  /** What was expected, with the nearest right word. */
  help: string | null;
  /** Line in the file, from 1; 0 where it has none. */
  line: number;
  /** What is wrong. */
  message: string;
  /** The key that it speaks of, as near as it is known; empty for the whole file. */
  path: Step[];
}

/** An earlier version, by its name. */
export interface Named {
  /** The name. */
  name: string;
}

/** A new layout. */
export interface NewLayout {
  /** A starter; a small plate with one line where there is none. */
  from?: string | null;
  /** What the work is called; the file's name is made of it. */
  title: string;
}

export type Note = string;

/** A photograph. */
export interface Photo {
  /** What is shown of it: left, top, right, bottom as shares of the picture. */
  crop: [number, number, number, number];
  /** Its file. */
  file: string;
  /** Pixels on a mm. */
  per_mm: number;
  /** Width and height of the whole picture, upright, pixels. */
  pixels: [number, number];
  /** Width and height on the plate, mm. */
  size: [number, number];
}

/** A drawing, to be set into the page. */
export interface Picture {
  /** Height, mm. */
  height: number;
  /** SVG, a viewBox in mm. */
  svg: string;
  /** Width, mm. */
  width: number;
}

/** A plaque as the job made it. */
export interface Plaque {
  /** The face with the plate on it and every hole; null where no face is told. */
  face: Picture | null;
  /** What was noticed, in the order of print. */
  findings: Finding[];
  /** One sentence: the scale that was reached, and of how much. */
  fit: string;
  /** The plaque in its material, heads of fixings over their holes. */
  front: Picture;
  /** Lines of the inscription, in their order; a file of wording gives lines as well. */
  lines: Line[];
  /** The proof mark. */
  mark: string;
  /** What holds it and where, in a sentence or two. */
  mount: string;
  /** The process that a new photograph has to name, where the plate's own makes none. */
  photo_process: string | null;
  /** Photographs, as in the layout. */
  photos: Photo[];
  /** Who signed. */
  signed: Signed | null;
  /** Width and height of the plate, mm. */
  size: [number, number];
  /** What is withheld, and why. */
  withheld: string[];
}

/** Why a request was refused, in words for the person at the page. */
export interface Refused {
  /** The sentence. */
  refused: string;
}

/** Who signed for what is cut. */
export interface Signed {
  /** What is otherwise now. */
  changes: string[];
  /** Whether it still is what is cut. */
  holds: boolean;
  /** The mark that was signed. */
  mark: string;
  /** Each signature in a sentence. */
  signatures: string[];
}

/** Who signs. */
export interface Signing {
  /** Who. */
  by: string;
  /** Year-month-day. */
  date: string;
  /** The mark that was shown when it was signed: another one is refused. */
  mark: string;
  /** As what. */
  role: string;
}

export type Size = string;

/** A step to a value: a key, or a place in a list, from 0. */
export type Step = number | string;

/** A file that was laid beside the layout. */
export interface Stored {
  /** Its name in the folder: that of a file that is there already, if it holds the same. */
  name: string;
}
