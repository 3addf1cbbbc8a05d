// Figures of records typed in place with the pad, and line voltages as keys.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// A figure of a record.
struct FigureAt {
    Kind kind = Kind::zone;
    Id id;
    std::string_view field;  // of the table, so it lives for ever
    friend bool operator==(const FigureAt&, const FigureAt&) = default;
};

// The sheet with the pad. Belongs to a screen.
class FigureEntry {
public:
    explicit FigureEntry(Shared& shared) : shared_(shared) {}
    void begin(const FigureAt& at);
    // A column that shows the figure and opens the pad for it. Each one drawn is a step on the way of the key that
    // saves and goes on to the next figure that is not recorded. Marks NAME.
    void figure(Context& context, const std::string& name, const FigureAt& at, float width, float label_height);
    // The sheet; after all figures of the page. Marks figure.pad.*, figure.same, figure.clear.
    void draw(Context& context);

private:
    void draw_pad(Context& context, const Job& job, const FieldInfo& field);
    void draw_volts(Context& context, const Job& job, const FieldInfo& field);
    void draw_other(Context& context, const Job& job, const FieldInfo& field);
    void keep(Context& context, const FieldInfo& field, Value value);
    void keep_and_go_on(Context& context, const FieldInfo& field, Value value);
    std::optional<FigureAt> next_open(const Job& job) const;

    Shared& shared_;
    FigureAt at_, drawn_;
    std::vector<FigureAt> way_;  // of this frame, as they stand on the page
    PadDraft pad_;
    bool open_ = false, other_ = false;  // other: a voltage that has no key is being typed
};

// The line voltages as keys: 25, 50, 70.7, 100 and another, which says its figure where one holds.
struct VoltsTouch {
    std::optional<Volts> volts;
    bool other = false;
};
// Marks NAME.0 to NAME.4.
VoltsTouch volts_row(Context& context, std::string_view name, std::optional<Volts> now);

}  // namespace tapwright::ui
