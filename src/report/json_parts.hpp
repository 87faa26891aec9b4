// SPDX-License-Identifier: GPL-3.0-or-later
// What all reports for programs are made of, as JSON, and how they are written.
#pragma once

#include "cutproof/result.hpp"

#include <nlohmann/json.hpp>

#include <optional>
#include <string>
#include <vector>

namespace cutproof::report_json {

using Json = nlohmann::ordered_json;

/// Text keeps every character (the writer turns all that is not ASCII into escapes); only bytes that are no UTF-8 are
/// escaped.
Json text(const std::string& raw);
/// A list of names, cut where it is long; then its true length stands beside it, as `KEY_count`.
void add_names(const char* key, const NameList& names, Json* object);

Json json(const Value& value);
Json json(const ExactPoint& point);
Json decimals(const ExactPoint& point);
Json json(const DehnValue& dehn);
Json json(const FieldResult& field);
Json json(const LoopPass& pass);
void add_extent(const std::optional<ExtentResult>& extent, Json* object);
Json json(const PieceResult& piece);
Json json(const MotionResult& motion);
/// With its `id` where one is given.
Json json(const Finding& finding, const std::string& id = "");
Json json(const std::vector<Finding>& findings);
/// `meshes`, where there are any.
void add_meshes(const std::vector<MeshResult>& meshes, Json* object);

/// A whole report: its head, then the content's keys.
std::string written_report(Json content);
/// One result as it is, or several (and one, where `always_list`) as the list `key` behind the highest exit code.
std::string written_list(const char* key, std::vector<Json> results, int exit_code, bool always_list);

}  // namespace cutproof::report_json
