#include "core/job/records_doc.h"

#include <cmath>

#include "core/base/text.h"
#include "core/job/field_table.h"

namespace tapwright {
namespace {

constexpr std::string_view introduction = R"(# Records

What a job is made of: every kind of record and every field, with the key files use. This page is written by the
program from its field table (`core/job/fields.def`); a test compares the two. To change it, change the table, then run
the job tests with `TAPWRIGHT_WRITE_DOCS=1`.

## What holds for all of them

- A job is one system at one site, and one file. It has one `job` record and any number of the others.
- What is not known is left out. No field is 0 or an empty text to say "unknown", and every calculation copes with
  what is missing: it says "unknown" or "at least" and goes on.
- Files are in SI units, and each key ends in its unit where it has one: `_w` watts, `_v` volts r.m.s., `_m` metres,
  `_db` decibels, `_c` degrees Celsius, and so on. On screen and paper lengths can be feet and inches instead.
- Every record but the job has an `id`: 1 to 40 of the characters A-Z a-z 0-9 _ -, kept for life and unique over all
  kinds. The one job record is `job`.
- Days are `YYYY-MM-DD`. Times are `YYYY-MM-DDThh:mm:ss` with an optional fraction and then `Z` or an offset such as
  `+02:00` (RFC 3339).
- A value of the wrong form (type, range, length) is refused wherever it comes from, a file that is opened included. Ranges are wide
  enough for anything built or measured. "0, or from" means that what is nearer to 0 is refused, because no meter
  shows it and no control is made for it. What ties records together
  (required fields, ids that must exist, feeds without circles, taps the type has) is checked for commands and imports;
  where merging copies or undoing breaks it, it is a finding of severity stop.

## Text

Names, notes and the like are kept as they were typed. Where a person reads them (terminal, window, sheet, label) each sign that would act on
what shows it is U+FFFD instead: controls, U+007F to U+009F, U+2028 and U+2029, what changes the direction of writing (U+061C,
U+200E and U+200F, U+202A to U+202E, U+2066 to U+2069). On a terminal a line end within a name or a note is `␊`.

## The CSV files

`export FILE FOLDER` writes one file for each kind (RFC 4180), commas between the cells; a cell with a comma, semicolon, tab, bar, quote or line end in
it, or a blank at its edge, is quoted. Numbers are plain, lists and maps are JSON. A text that a spreadsheet could take for a formula has an
apostrophe in front: one that begins with `=`, `+`, `-`, `@`, their full-width or small forms, a tab or a carriage return, blanks and
quotes before them passed over. So has each part of a text behind a semicolon, bar, tab or line end that begins so. A reader takes the apostrophe
away exactly there: at the start of a cell and behind those signs, where what follows it begins so.

## The JSON file

One object: `"tapwright_job"` with the version, `"job"` with the job's own fields, then each kind that has records as a
list under its key, in the order of this page. In a record `"id"` comes first and the fields follow in the order of their
table; the records of a kind are in the order they were made. The text is UTF-8 with LF line ends, two spaces for each
level and one member or element a line; numbers are as short as they read back. Controls, U+007F to U+009F, the line separators
U+2028 and U+2029 and the signs that change the direction of writing are written as `\uXXXX`. Readers refuse an unknown key, a repeated
key, a value of the wrong form and a file of a newer version, and then take nothing of the file.

On the command line a field is `key=value`, and the value may carry its unit: `tap_w=7.5`, `tap_w="7.5 W"`,
`length_m="40 ft 6 in"`, `state=fitted`, `taps_w="1.5/3/6"`, `knobs="a1=-6, a2=off"`. An empty value clears the field.
)";

std::string cell(std::string_view text) {
    std::string escaped;
    for (const char c : text) {
        if (c == '|') escaped += '\\';
        escaped += c;
    }
    return escaped;
}

std::string in_code(std::string_view text) {
    return "`" + std::string(text) + "`";
}

std::string range_of_number(const Rule& rule) {
    const bool has_low = std::isfinite(rule.low);
    const bool has_high = std::isfinite(rule.high);
    std::string text;
    if (has_low) text = "from " + shortest(rule.low);
    if (rule.grain > 0 && rule.low >= 0) text = "0, or from " + shortest(rule.grain);
    if (rule.grain > 0 && rule.low < 0) return "0, or from " + shortest(-rule.grain) + " down to " + shortest(rule.low);
    if (has_high)
        text += (text.empty() ? "" : " ") + std::string(rule.high_excluded ? "below " : "to ") + shortest(rule.high);
    return text;
}

std::string kinds_in_code(const KindSet& kinds) {
    if (kinds.is_any()) return "any record";
    std::string text;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i))) text += (text.empty() ? "" : ", ") + in_code(plural(kind_at(i)));
    return text;
}

std::string range_of(const FieldInfo& field) {
    std::string text;
    switch (field.form) {
        case FieldForm::text:
            return "at most " + std::to_string(field.rule.most_chars) + " characters";
        case FieldForm::choice:
            for (const std::string_view word : field.choices) text += (text.empty() ? "" : ", ") + in_code(word);
            return text;
        case FieldForm::whole:
            if (field.rule.allowed_count == 0) return range_of_number(field.rule);
            for (std::size_t i = 0; i < field.rule.allowed_count; ++i)
                text += (text.empty() ? "" : ", ") + std::to_string(field.rule.allowed[i]);
            return text;
        case FieldForm::number:
            return range_of_number(field.rule);
        case FieldForm::number_list:
            return "each " + range_of_number(field.rule);
        case FieldForm::id:
        case FieldForm::id_list:
            return kinds_in_code(field.rule.may_refer_to);
        case FieldForm::knob:
            return range_of_number(field.rule) + ", or `\"off\"`";
        case FieldForm::knob_map:
            return kinds_in_code(field.rule.may_refer_to) + "; each " + range_of_number(field.rule) + ", or `\"off\"`";
        case FieldForm::text_map:
            return "watts from 0.001 to texts of at most 200 characters";
        case FieldForm::pin:
        case FieldForm::strokes:
            return "each from 0 to 1";
        case FieldForm::changes:
            return "`op` is `add`, `set` or `remove`; with `kind`, `id`, `fields`";
        case FieldForm::sha256:
            return "64 of 0-9 a-f";
        case FieldForm::flag:
        case FieldForm::date:
        case FieldForm::time:
            return "";
    }
    return "";
}

std::string when_absent(const FieldInfo& field) {
    if (field.rule.is_required) return "required";
    return field.rule.absent_means.empty() ? "unknown" : std::string(field.rule.absent_means);
}

std::string row_of(const FieldInfo& field) {
    return "| " + in_code(field.name) + " | " + std::string(name_of(field.form)) + " | " + cell(field.unit) + " | " +
           cell(range_of(field)) + " | " + cell(when_absent(field)) + " | " + cell(field.help.text) + " |\n";
}

}  // namespace

std::string records_document() {
    std::string text(introduction);
    text += "\nThis is version " + std::to_string(job_table_version) + " of the table.\n";
    for (std::size_t i = 0; i < kind_count; ++i) {
        const Kind kind = kind_at(i);
        const bool is_job = kind == Kind::job;
        text += "\n## " + std::string(plural(kind)) + "\n\n";
        text += (is_job ? "The job itself: " : "Each is ") + std::string(help(kind)) +
                ". On the command line: " + in_code(singular(kind)) + ".\n\n";
        text += "| key | form | unit | range | when absent | what it says |\n|---|---|---|---|---|---|\n";
        for (const FieldInfo& field : fields(kind)) text += row_of(field);
    }
    return text;
}

}  // namespace tapwright
