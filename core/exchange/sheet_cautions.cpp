// What every reader is told whatever the job holds, and the lines to sign on.
#include <algorithm>

#include "core/exchange/sheet_parts.h"
#include "core/exchange/sheet_words.h"

namespace tapwright::sheet {
namespace {

using document::Bullets;
using document::Heading;
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
    blocks.push_back(Heading{2, "What not to do"});
    blocks.push_back(Bullets{{
        "Do not open loudspeakers, wall controls or terminal boxes. While the system plays, up to " +
            show(highest_voltage(view)) + " stand on the lines; that voltage is hazardous.",
        "Do not add, swap or re-tap loudspeakers, and do not join lines: a line that takes too much can stop the "
        "amplifier or damage it.",
        "Do not climb to a loudspeaker without a ladder that fits, firm ground and somebody to hold it.",
        "Do not turn knobs far above their normal marks for hours: loud sound harms hearing, and it wears out "
        "loudspeakers.",
        "Leave wiring work to those whom the local code and its licences allow to do it.",
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

void sign_off(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, "Sign-off"});
    const auto signoffs = view.job.all<Signoff>();
    if (!signoffs.empty()) {
        blocks.push_back(
            Paragraph{"Signed earlier, for the system as it was on the date beside the name:", Tone::plain});
        for (const Signoff& signoff : signoffs) {
            SignatureLine line;
            line.role = text_or(signoff.role, "");
            line.name = name_of(view.job, signoff.id);
            if (signoff.time) line.date = day_of(signoff.time->text);
            if (signoff.strokes) line.strokes = *signoff.strokes;
            blocks.push_back(std::move(line));
        }
        blocks.push_back(Paragraph{"For the system as this sheet describes it:", Tone::plain});
    }
    blocks.push_back(SignatureLine{"For the contractor", "", "", {}});
    blocks.push_back(SignatureLine{"For the owner", "", "", {}});
}

}  // namespace tapwright::sheet
