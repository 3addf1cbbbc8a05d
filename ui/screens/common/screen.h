// What every screen of the program begins with: what the screens share, and a title.
#pragma once

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// A page with one title; what is called after what it shows overrides it.
class TitledScreen : public Screen {
public:
    Message title(Context&) override { return title_; }

protected:
    TitledScreen(Shared& shared, Message title) : shared_(shared), title_(std::move(title)) {}

    Shared& shared_;

private:
    Message title_;
};

// A page about one record. The record may go while the page is open, by undo or from another page: then the page
// keeps its plain title, has no foot and says how the record comes back.
class ScreenOfRecord : public TitledScreen {
public:
    Message title(Context& context) final;
    void draw(Context& context) final;
    bool has_foot(Context& context) final;
    PageZone page_zone(Context& context) override { return zone_of_record(*context.session, id_); }

protected:
    // `title` is what the page is called without the record: "Room".
    ScreenOfRecord(Shared& shared, Id id, Message title) : TitledScreen(shared, std::move(title)), id_(std::move(id)) {}

    virtual bool is_there(const Job& job) const { return job.kind_of(id_).has_value(); }
    // These three are called while the record is there.
    virtual Message title_of_record(Context& context, const Job& job) = 0;
    virtual void draw_record(Context& context, const Job& job) = 0;
    virtual bool has_record_foot(Context&, const Job&) { return false; }

    const Id id_;
};

}  // namespace tapwright::ui
