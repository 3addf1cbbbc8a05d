// Photos, in the order of the rooms: for the owner only what is shared with them, for the technician all that is not
// private, and never a picture that is not in the job file.
#include <algorithm>
#include <map>

#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Figure;
using outline::Heading;
using outline::Layout;

bool may_see(const View& view, const Photo& photo) {
    const Share share = photo.share.value_or(Share::technician);
    return view.options.reader == SheetReader::owner ? share == Share::owner : share != Share::private_;
}

// The room that what a photo shows is in; nothing for a zone, an amplifier without a room, or the job itself.
std::optional<Id> room_of(const Job& job, const Id& about) {
    if (job.has(Kind::room, about)) return about;
    if (const Point* point = job.find<Point>(about)) return point->room;
    if (const Amplifier* amplifier = job.find<Amplifier>(about)) return amplifier->room;
    if (const Control* control = job.find<Control>(about)) return control->room;
    if (const Snag* snag = job.find<Snag>(about); snag && snag->about && *snag->about != about)
        return job.has(Kind::snag, *snag->about) ? std::nullopt : room_of(job, *snag->about);
    return std::nullopt;
}

// A private snag is not named, whatever photos of it are shared.
Message subject(const View& view, const Photo& photo) {
    if (!photo.about || *photo.about == job_id()) return Message("The system");
    if (const Snag* snag = view.job.find<Snag>(*photo.about)) {
        const Share share = snag->share.value_or(Share::technician);
        const bool hidden =
            view.options.reader == SheetReader::owner ? share != Share::owner : share == Share::private_;
        if (hidden || !snag->text) return Message("A snag");
        std::string text = cited(*snag->text, 120);
        while (text.ends_with('.')) text.pop_back();  // a caption may follow
        return entered(text);
    }
    return called(view.job, photo.about);
}

Message caption_of(const View& view, const Photo& photo) {
    Message text = subject(view, photo);
    if (photo.caption)
        text = in_context("photo", "{subject}: {caption}",
                          {{"subject", std::move(text)}, {"caption", entered(*photo.caption)}});
    if (photo.taken)
        text = in_context("photo", "{caption} ({day})",
                          {{"caption", std::move(text)}, {"day", day_of(photo.taken->text)}});
    return text;
}

std::optional<Figure> figure_of(const View& view, const Photo& photo) {
    if (!photo.sha256) return std::nullopt;
    std::optional<document::Picture> picture = view.options.picture(photo.sha256->hex);
    if (!picture) return std::nullopt;
    if (photo.pin) picture->pin = {photo.pin->x, photo.pin->y};
    const Message caption = caption_of(view, photo);
    Message alternative = photo.pin ? Message("Photo. {caption}. A ring marks the spot.", {{"caption", caption}})
                                    : Message("Photo. {caption}", {{"caption", caption}});
    return Figure{std::move(*picture), caption, std::move(alternative)};
}

}  // namespace

// The layouts are made in place: in a moved Block that holds one, GCC 12 sees strings nobody initialised, which are not
// there (of the kind of GCC bug 80635).
void add_in_pairs(std::vector<Figure> figures, Blocks& blocks) {
    for (std::size_t i = 0; i < figures.size(); i += 2) {
        blocks.emplace_back(Layout::beside);
        blocks.push_back(std::move(figures[i]));
        blocks.emplace_back(Layout::next_column);
        if (i + 1 < figures.size()) blocks.push_back(std::move(figures[i + 1]));
        blocks.emplace_back(Layout::end_beside);
    }
}

void photo_section(const View& view, Blocks& blocks) {
    if (!view.options.picture) return;
    std::vector<std::vector<const Photo*>> by_room(view.job.all<Room>().size() + 1);
    for (const Photo& photo : view.job.all<Photo>()) {
        if (!may_see(view, photo)) continue;
        const std::optional<Id> room = photo.about ? room_of(view.job, *photo.about) : std::nullopt;
        const auto place = room ? view.job.place<Room>(*room) : std::nullopt;
        by_room[place ? *place : by_room.size() - 1].push_back(&photo);
    }
    std::vector<std::uint32_t> order = view.rooms;
    order.push_back(static_cast<std::uint32_t>(by_room.size() - 1));
    bool is_first = true;
    for (const std::uint32_t place : order) {
        std::vector<Figure> figures;
        for (const Photo* photo : by_room[place])
            if (std::optional<Figure> figure = figure_of(view, *photo)) figures.push_back(std::move(*figure));
        if (figures.empty()) continue;
        if (is_first) blocks.push_back(Heading{2, Message("Photos")});
        is_first = false;
        blocks.push_back(Heading{3, place < view.job.all<Room>().size()
                                        ? Message(entered(name_of(view.job, view.room(place).id)))
                                        : Message("Elsewhere")});
        add_in_pairs(std::move(figures), blocks);
    }
}

}  // namespace tapwright::sheet
