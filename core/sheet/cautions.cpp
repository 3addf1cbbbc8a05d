// What every reader is told whatever the job holds, and the lines to sign on.
#include <algorithm>

#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Bullets;
using document::Heading;
using document::Layout;
using document::Paragraph;
using document::SignatureLine;
using document::Tone;

// The highest line voltage of the job.
Volts highest_voltage(const View& view) {
    Volts highest = line_voltage(view.job);
    for (const ZoneState& zone : view.derived.zones) highest = std::max(highest, zone.line_v);
    return highest;
}

}  // namespace

void not_a_certificate(Blocks& blocks) {
    blocks.push_back(Paragraph{
        "Not a fire or emergency system, and not a certificate of compliance. Nobody may rely on these loudspeakers to "
        "be warned of danger.",
        Tone::stop});
}

void owner_cautions(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{3, "What not to do"});
    blocks.push_back(Bullets{{
        "Do not open loudspeakers, wall controls or terminal boxes: up to " + show(highest_voltage(view)) +
            " stand on the lines while it plays, which is hazardous.",
        "Do not add, swap or re-tap loudspeakers or join lines: too much on a line can stop the amplifier or damage "
        "it.",
        "Do not climb to a loudspeaker without a ladder that fits, firm ground and somebody to hold it.",
        "Do not turn knobs far above their normal marks for hours: loud sound harms hearing and wears out "
        "loudspeakers.",
        "Leave wiring to those whom the local code allows to do it.",
    }});
}

void technician_cautions(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, "Cautions"});
    blocks.push_back(Bullets{{
        "Line voltage up to " + show(highest_voltage(view)) +
            " while a signal plays: hazardous. Switch the amplifier off and lift both legs before measuring ohms or "
            "opening a line.",
        "Measure impedance with an impedance meter at the frequency recorded; a d.c. ohmmeter reads the copper of the "
        "transformers and says nothing of the load.",
        "Ladders, ceilings with asbestos, plenum spaces and permits: see the access notes of each room first.",
        "Protect hearing, yours and others', whenever tones or pink noise are played.",
        "The local code and its licences decide who may do this work and which cable goes where. This sheet records; "
        "it approves nothing.",
    }});
}

namespace {

constexpr std::size_t most_on_first_page = 4;

// Two lines to sign on side by side.
void signature_row(SignatureLine left, std::optional<SignatureLine> right, Blocks& blocks) {
    blocks.push_back(Layout::beside);
    blocks.push_back(std::move(left));
    blocks.push_back(Layout::next_column);
    if (right) blocks.push_back(std::move(*right));
    blocks.push_back(Layout::end_beside);
}

void blank_lines(Blocks& blocks) {
    signature_row({"For the contractor", "", "", {}}, SignatureLine{"For the owner", "", "", {}}, blocks);
}

SignatureLine signed_line(const View& view, const Signoff& signoff) {
    SignatureLine line;
    line.role = text_or(signoff.role, "");
    line.name = name_of(view.job, signoff.id);
    if (signoff.time) line.date = day_of(signoff.time->text);
    if (signoff.strokes) line.strokes = *signoff.strokes;
    return line;
}

void signed_lines(const View& view, std::size_t first, std::size_t last, Blocks& blocks) {
    const auto signoffs = view.job.all<Signoff>();
    for (std::size_t i = first; i < last; i += 2)
        signature_row(signed_line(view, signoffs[i]),
                      i + 1 < last ? std::optional(signed_line(view, signoffs[i + 1])) : std::nullopt, blocks);
}

}  // namespace

void sign_off(const View& view, Blocks& blocks) {
    const std::size_t count = view.job.all<Signoff>().size();
    const std::string title =
        count == 0 ? "Sign-off" : "Sign-off, for the system as it was on the date beside the name";
    blocks.push_back(Heading{view.options.reader == SheetReader::owner ? 3 : 2, title});
    if (count == 0) return blank_lines(blocks);
    signed_lines(view, count > most_on_first_page ? count - most_on_first_page : 0, count, blocks);
}

void sign_again(const View& view, Blocks& blocks) {
    const std::size_t count = view.job.all<Signoff>().size();
    if (count == 0) return;
    if (count > most_on_first_page) {
        blocks.push_back(Heading{2, "Signed before"});
        signed_lines(view, 0, count - most_on_first_page, blocks);
    }
    blocks.push_back(Heading{2, "To sign for the system as this sheet describes it"});
    blank_lines(blocks);
}

}  // namespace tapwright::sheet
