using System.Text.Json.Serialization;
using Derivid.Api.Auditing;
using Derivid.Api.Curation;
using Derivid.Api.Curation.Imports;
using Derivid.Api.Health;
using Derivid.Api.Identifications;
using Derivid.Api.Keys;
using Derivid.Api.Paging;
using Derivid.Api.Problems;
using Derivid.Api.Table;

namespace Derivid.Api.Json;

/// <summary>Every type that goes over the wire, prepared at compile time for a quick start.</summary>
[JsonSerializable(typeof(BatchRequest))]
[JsonSerializable(typeof(BatchResponse))]
[JsonSerializable(typeof(IdentificationRequest))]
[JsonSerializable(typeof(IdentificationResponse))]
[JsonSerializable(typeof(RangeInFigures))]
[JsonSerializable(typeof(HealthItem))]
[JsonSerializable(typeof(Page<ColourItem>), TypeInfoPropertyName = "ColourPage")]
[JsonSerializable(typeof(Page<DerivativeItem>), TypeInfoPropertyName = "DerivativePage")]
[JsonSerializable(typeof(Page<DerivativeKindItem>), TypeInfoPropertyName = "DerivativeKindPage")]
[JsonSerializable(typeof(Page<ParentItem>), TypeInfoPropertyName = "ParentPage")]
[JsonSerializable(typeof(Page<SourceItem>), TypeInfoPropertyName = "SourcePage")]
[JsonSerializable(typeof(Page<SpotTestItem>), TypeInfoPropertyName = "SpotTestPage")]
[JsonSerializable(typeof(Page<StandardItem>), TypeInfoPropertyName = "StandardPage")]
[JsonSerializable(typeof(Page<TableVersionItem>), TypeInfoPropertyName = "TableVersionPage")]
[JsonSerializable(typeof(DerivativeQuery))]
[JsonSerializable(typeof(PageQuery))]
[JsonSerializable(typeof(ParentDetail))]
[JsonSerializable(typeof(ParentQuery))]
[JsonSerializable(typeof(ProblemBody))]
[JsonSerializable(typeof(SpotTestQuery))]
[JsonSerializable(typeof(StoreQuery))]
[JsonSerializable(typeof(TableVersionItem))]
[JsonSerializable(typeof(VersionQuery))]
[JsonSerializable(typeof(SourceItem))]
[JsonSerializable(typeof(NoQuery))]
[JsonSerializable(typeof(AuditQuery))]
[JsonSerializable(typeof(CallerItem))]
[JsonSerializable(typeof(KeyItem))]
[JsonSerializable(typeof(KeyMade))]
[JsonSerializable(typeof(KeyQuery))]
[JsonSerializable(typeof(KeyRequest))]
[JsonSerializable(typeof(RowPage<AuditItem>), TypeInfoPropertyName = "AuditPage")]
[JsonSerializable(typeof(RowPage<KeyItem>), TypeInfoPropertyName = "KeyPage")]
[JsonSerializable(typeof(ChangeQuery))]
[JsonSerializable(typeof(CommentItem))]
[JsonSerializable(typeof(CommentList))]
[JsonSerializable(typeof(CommentRequest))]
[JsonSerializable(typeof(ImportItem))]
[JsonSerializable(typeof(ImportQuery))]
[JsonSerializable(typeof(ProposalDescription))]
[JsonSerializable(typeof(ProposalItem))]
[JsonSerializable(typeof(ProposalQuery))]
[JsonSerializable(typeof(ProposalRequest))]
[JsonSerializable(typeof(RecordChangeRequest))]
[JsonSerializable(typeof(ReleaseRequest))]
[JsonSerializable(typeof(ReviewRequest))]
[JsonSerializable(typeof(RowPage<ImportFaultItem>), TypeInfoPropertyName = "ImportFaultPage")]
[JsonSerializable(typeof(RowPage<ProposalItem>), TypeInfoPropertyName = "ProposalPage")]
[JsonSerializable(typeof(RowQuery))]
[JsonSerializable(typeof(ValidationItem))]
[JsonSerializable(typeof(CoverageItem))]
[JsonSerializable(typeof(RowPage<ChangeItem>), TypeInfoPropertyName = "ChangePage")]
[JsonSerializable(typeof(StructureItem))]
[JsonSerializable(typeof(StructureRequest))]
public sealed partial class WireContext : JsonSerializerContext;
