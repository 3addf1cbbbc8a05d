#include "core/job/record_title.h"

#include "core/base/text.h"

namespace tapwright {
namespace {

constexpr std::size_t most_chars = 40;

// "Photo of C-104". What it is about is called by its own name only, so that no circle is ever run through.
Message by_subject(const Job& job, Kind kind, const Id& id) {
    for (const std::string_view key : {"about", "at", "amplifier"}) {
        const FieldInfo* field = find_field(kind, key);
        if (!field) continue;
        const Value about = job.get(kind, id, *field);
        if (!about.text() || !Id::is_valid(*about.text())) continue;
        const Id subject(*about.text());
        const std::optional<Kind> what = job.kind_of(subject);
        if (!what) continue;
        const std::string name = name_of(job, subject);
        return Message("{kind} of {record}",
                       {{"kind", title_of(kind)},
                        {"record", name == subject.text() ? Argument(title_of(*what)) : Argument(entered(name))}});
    }
    return title_of(kind);
}

Message sheet_title(const SheetRecord& sheet) {
    if (!sheet.reader || !sheet.time) return title_of(Kind::sheet);
    return Message("Sheet for the {reader}, {time}", {{"reader", *sheet.reader}, {"time", Moment{sheet.time->text}}});
}

}  // namespace

Message visit_title(const Visit& visit) {
    if (visit.date && visit.purpose)
        return Message("Visit on {day}: {purpose}", {{"day", Day{visit.date->text}}, {"purpose", *visit.purpose}});
    if (visit.date) return Message("Visit on {day}", {{"day", Day{visit.date->text}}});
    if (visit.purpose) return Message("Visit: {purpose}", {{"purpose", *visit.purpose}});
    return Message("Visit");
}

Message record_title(const Job& job, const Id& id) {
    const std::optional<Kind> kind = job.kind_of(id);
    if (const Interface* link = job.find<Interface>(id); link && link->kind)
        return Choice{ChoiceWords<InterfaceKind>::list, word(*link->kind), true};
    if (std::string name = name_of(job, id); name != id.text() || !kind) return entered(std::move(name));
    if (const Visit* visit = job.find<Visit>(id)) return visit_title(*visit);
    if (const SheetRecord* sheet = job.find<SheetRecord>(id)) return sheet_title(*sheet);
    if (const Photo* photo = job.find<Photo>(id); photo && photo->caption)
        return entered(cited(*photo->caption, most_chars));
    if (const Snag* snag = job.find<Snag>(id); snag && snag->text) return entered(cited(*snag->text, most_chars));
    return by_subject(job, *kind, id);
}

}  // namespace tapwright
