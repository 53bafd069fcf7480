using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Api.Identifications;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Http;

/// <summary>What the service alone writes as JSON, in the same form as the wire: queries, and what it keeps as text.</summary>
[JsonSerializable(typeof(AssignmentQuery))]
[JsonSerializable(typeof(AuditQuery))]
[JsonSerializable(typeof(ChangeQuery))]
[JsonSerializable(typeof(CourseQuery))]
[JsonSerializable(typeof(DerivativeQuery))]
[JsonSerializable(typeof(DrawingOfParent))]
[JsonSerializable(typeof(DrawingQuery))]
[JsonSerializable(typeof(FillingQuery))]
[JsonSerializable(typeof(Grade))]
[JsonSerializable(typeof(Dictionary<string, DateTime>), TypeInfoPropertyName = "Moments")]
[JsonSerializable(typeof(GradebookQuery))]
[JsonSerializable(typeof(GradeQuery))]
[JsonSerializable(typeof(OneRosterQuery))]
[JsonSerializable(typeof(RosterQuery))]
[JsonSerializable(typeof(ImportQuery))]
[JsonSerializable(typeof(KeyQuery))]
[JsonSerializable(typeof(ModerationQuery))]
[JsonSerializable(typeof(OverviewQuery))]
[JsonSerializable(typeof(TableQuery))]
[JsonSerializable(typeof(ParentQuery))]
[JsonSerializable(typeof(ProposalQuery))]
[JsonSerializable(typeof(ReadingsQuery))]
[JsonSerializable(typeof(ReportBody))]
[JsonSerializable(typeof(PageQuery))]
[JsonSerializable(typeof(SheetQuery))]
[JsonSerializable(typeof(WorthQuery))]
[JsonSerializable(typeof(ShelfQuery))]
[JsonSerializable(typeof(SpotTestQuery))]
[JsonSerializable(typeof(BatchStoreQuery))]
[JsonSerializable(typeof(StoreQuery))]
[JsonSerializable(typeof(VersionQuery))]
public sealed partial class ServiceContext : JsonSerializerContext
{
    /// <summary>These types, written as the wire's are.</summary>
    public static ServiceContext Wire { get; } = new(WireJson.Configured(new JsonSerializerOptions()));
}
