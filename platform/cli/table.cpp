// THE COMMAND TABLE.
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

constexpr OptionValue flag{};
constexpr OptionValue an_id{Pattern("ID"), {}};

constexpr OptionValue one_of(std::string_view choices) {
    return {{}, choices};
}
constexpr OptionValue put(Pattern placeholder) {
    return {placeholder, {}};
}

constexpr OptionInfo json_option{"--json", flag, Pattern("for machines: JSON on standard output")};
constexpr OptionInfo why_option{"--why", flag, Pattern("with the reasons behind each sentence")};
constexpr OptionInfo person_option{"--person", put(Pattern("NAME")), Pattern("who does it (else as in your settings)")};
constexpr OptionInfo visit_option{"--visit", an_id, Pattern("during which visit of the job")};
constexpr OptionInfo replace_option{"--replace", flag, Pattern("writes over what is there")};
constexpr OptionInfo keep_option{"--keep", put(Pattern("NAME")), Pattern("keeps it as a trial of that name")};
constexpr OptionInfo paper_option{"--paper", one_of("a4|letter"), Pattern("paper size (a4)")};

constexpr std::size_t any_number = 100000;

void add_files(std::vector<CommandInfo>& list) {
    list.push_back({"new",
                    Pattern("FILE"),
                    Pattern("makes an empty job file"),
                    {{"--name", put(Pattern("N")), Pattern("what the job is called")},
                     {"--line-v", put(Pattern("V")), Pattern("line voltage (70.7)")},
                     person_option},
                    1,
                    1,
                    make_new});
    list.push_back({"import",
                    Pattern("IN.json FILE"),
                    Pattern("makes a job file from JSON; - is standard input"),
                    {person_option},
                    2,
                    2,
                    import_job});
    list.push_back({"export",
                    Pattern("FILE OUT"),
                    Pattern("writes everything: OUT.json, - for standard output, or a folder for CSV"),
                    {replace_option},
                    2,
                    2,
                    export_job});
}

void add_shows(std::vector<CommandInfo>& list) {
    list.push_back({"check",
                    Pattern("FILE"),
                    Pattern("loads, headroom and findings"),
                    {why_option, json_option},
                    1,
                    1,
                    check_job});
    list.push_back({"solve",
                    Pattern("FILE"),
                    Pattern("every voltage and watt on the line"),
                    {{"--hz", put(Pattern("F")), Pattern("at a frequency, where a transformer model is given")},
                     {"--knobs", one_of("full|left"), Pattern("attenuators at full, or as left (left)")},
                     json_option},
                    1,
                    1,
                    solve_job});
}

void add_records(std::vector<CommandInfo>& list) {
    list.push_back({"list",
                    Pattern("FILE [KIND]"),
                    Pattern("all records, or those of a kind"),
                    {json_option},
                    1,
                    2,
                    list_records});
    list.push_back({"show",
                    Pattern("FILE ID"),
                    Pattern("one record with its fields, by its id, label or name"),
                    {json_option},
                    2,
                    2,
                    show_record});
}

void add_changes(std::vector<CommandInfo>& list) {
    const std::vector<OptionInfo> options{json_option, person_option, visit_option};
    list.push_back({"add",
                    Pattern("FILE KIND field=value ..."),
                    Pattern("adds a record; or, with --csv, the points of a table"),
                    {{"--csv", put(Pattern("IN.csv")),
                      Pattern("points copied from a spreadsheet, all of them or none; - is standard input")},
                     json_option,
                     person_option,
                     visit_option},
                    2,
                    any_number,
                    add_record});
    list.push_back({"set", Pattern("FILE ID field=value ..."),
                    Pattern("sets fields of a record; an empty value clears one"), options, 3, any_number, set_record});
    list.push_back({"remove", Pattern("FILE ID"),
                    Pattern("removes a record; points fed from it will be fed from the point before it"), options, 2, 2,
                    remove_record});
    list.push_back({"read",
                    Pattern("FILE AT ohms=92.5 [hz=] [dry]"),
                    Pattern("records a reading and judges it; with `dry` it is only judged"),
                    {{"--without", put(Pattern("POINT")),
                      Pattern("taken with this loudspeaker disconnected: what it draws, and which tap that is")},
                     why_option,
                     json_option,
                     person_option,
                     visit_option},
                    3,
                    any_number,
                    take_reading});
}

void add_plans(std::vector<CommandInfo>& list) {
    list.push_back({"survey",
                    Pattern("FILE ROOM TYPE"),
                    Pattern("how many loudspeakers of a type a room takes, where, on which tap"),
                    {{"--grid", one_of("square|staggered"), Pattern("how they are laid out (square)")},
                     {"--rule", one_of("touching|gapless|double"), Pattern("how far their circles overlap (gapless)")},
                     {"--wanted", put(Pattern("DB")), Pattern("the level wanted at the ears (the room's)")},
                     {"--margin", put(Pattern("DB")), Pattern("over the room's noise, where no level is given (10)")},
                     {"--zone", an_id, Pattern("for which zone's line voltage (the one that serves the room)")},
                     {"--keep", flag, Pattern("keeps the layout as planned loudspeakers of the room")},
                     json_option,
                     person_option,
                     visit_option},
                    3,
                    3,
                    survey_room});
    list.push_back(
        {"trial",
         Pattern("FILE CHANGES.json"),
         Pattern("shows what changes would do, without saving them; or a trial kept in the job, by its id or name"),
         {keep_option,
          {"--real", one_of("set|plan"), Pattern("makes it real in one step: taps as set now, or as the plan")},
          json_option,
          person_option,
          visit_option},
         2,
         2,
         try_changes});
    list.push_back(
        {"fit",
         Pattern("FILE ZONE --add TYPExN[@W] ..."),
         Pattern("tap settings that make room in a zone for what is to be added"),
         {{"--add", put(Pattern("TYPExN[@W]")),
           Pattern("what is to be added, on which tap (any); can be given several times"), true},
          {"--aim", one_of("fewest|level|wanted"),
           Pattern("fewest loudspeakers to re-tap, levels closest to today's or to those wanted (all three)")},
          {"--room", an_id, Pattern("the room they go into, for the level wanted there")},
          {"--from", an_id, Pattern("the point of the zone they are fed from (the zone itself)")},
          {"--leave", put(Pattern("POINT")),
           Pattern("a loudspeaker to leave as it is, by its label or id; can be given several times"), true},
          {"--keep", put(Pattern("NAME")), Pattern("keeps the option of the one --aim as a trial of that name")},
          json_option,
          person_option,
          visit_option},
         2,
         any_number,
         fit_zone});
}

void add_faults(std::vector<CommandInfo>& list) {
    list.push_back({"faults",
                    Pattern("FILE ZONE"),
                    Pattern("causes that explain what was read and heard, and what to measure next"),
                    {{"--with", put(Pattern("AT:QUANTITY=VALUE")),
                      Pattern("what else was read or heard, not in the job; can be given several times"), true},
                     {"--only", one_of("ohms|dc_ohms|heard|tap_w"), Pattern("proposes this kind of measurement alone")},
                     {"--equal", flag, Pattern("every measurement costs the same")},
                     json_option},
                    2,
                    2,
                    find_faults});
}

void add_cable(std::vector<CommandInfo>& list) {
    list.push_back(
        {"cable",
         Pattern("[FILE] --load W --length L --volts V"),
         Pattern("what a length of cable costs, how long it may be and which size will do; no job is needed"),
         {{"--load", put(Pattern("W")), Pattern("the watts at its end")},
          {"--length", put(Pattern("L")), Pattern("one way, such as 40m or 130ft")},
          {"--volts", put(Pattern("V")), Pattern("line voltage (the job's)")},
          {"--size", put(Pattern("SIZE")), Pattern("of one conductor, such as 1.5mm2 or 16AWG (all sizes)")},
          {"--cable", put(Pattern("TYPE")), Pattern("a cable type of the job, with the figures recorded for it")},
          {"--limit-db", put(Pattern("DB")), Pattern("the loss that is allowed (the job's, else 1)")},
          json_option},
         0,
         1,
         ask_cable});
}

void add_handover(std::vector<CommandInfo>& list) {
    list.push_back({"photo",
                    Pattern("FILE ABOUT IMAGE [caption=] [share=]"),
                    Pattern("adds a JPEG or PNG about a record; the same twice is kept once"),
                    {json_option, person_option, visit_option},
                    3,
                    7,
                    take_photo});
    list.push_back({"sheet",
                    Pattern("FILE OUT.pdf|OUT.html"),
                    Pattern("writes the handover sheet; - is a page on standard output"),
                    {{"--for", one_of("owner|technician"), Pattern("who is to read it (technician)")},
                     paper_option,
                     replace_option,
                     json_option,
                     person_option,
                     visit_option},
                    2,
                    2,
                    write_sheet});
    list.push_back({"labels",
                    Pattern("FILE OUT.pdf|OUT.html"),
                    Pattern("writes labels to cut out, for both ends of every run; - is a page on standard output"),
                    {{"--size", put(Pattern("S")), Pattern("small, medium, large or 60x25 in millimetres (medium)")},
                     {"--zone", an_id, Pattern("only this zone")},
                     paper_option,
                     replace_option,
                     json_option},
                    2,
                    2,
                    write_labels});
}

void add_past(std::vector<CommandInfo>& list) {
    list.push_back({"history",
                    Pattern("FILE"),
                    Pattern("who changed what, when; the latest first"),
                    {{"--most", put(Pattern("N")), Pattern("how many (50)")}, json_option},
                    1,
                    1,
                    show_history});
    const std::vector<OptionInfo> options{json_option, person_option, visit_option};
    list.push_back({"undo", Pattern("FILE"), Pattern("takes back your latest change"), options, 1, 1, undo_batch});
    list.push_back({"redo", Pattern("FILE"), Pattern("takes back your latest undo"), options, 1, 1, redo_batch});
    list.push_back({"seal",
                    Pattern("FILE OUT"),
                    Pattern("writes a checked, compacted copy to hand on"),
                    {json_option},
                    2,
                    2,
                    seal_job});
    list.push_back(
        {"verify",
         Pattern("FILE"),
         Pattern("checks that the file is undamaged; this does not prove who wrote it"),
         {{"--state", put(Pattern("HASH")),
           Pattern("a sheet's content hash, code or file hash: which state that was, and what changed since")},
          json_option},
         1,
         1,
         verify_job});
}

}  // namespace

std::span<const CommandInfo> commands() {
    static const std::vector<CommandInfo> table = [] {
        std::vector<CommandInfo> list;
        add_files(list);
        add_shows(list);
        add_records(list);
        add_changes(list);
        add_plans(list);
        add_faults(list);
        add_cable(list);
        add_handover(list);
        add_past(list);
        list.push_back({"help", Pattern("[COMMAND]"), Pattern("this, or one command in full"), {}, 0, 1, show_help});
        return list;
    }();
    return table;
}

const CommandInfo* find_command(std::string_view name) {
    for (const CommandInfo& command : commands())
        if (command.name == name) return &command;
    return nullptr;
}

}  // namespace tapwright::cli
