using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>Puts proposals, differences, findings and imports into their wire form.</summary>
public static class CurationWire
{
    extension(ProposalItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="proposal">The proposal.</param>
        public static ProposalItem Of(Proposal proposal)
        {
            ArgumentNullException.ThrowIfNull(proposal);
            return new ProposalItem(
                proposal.Id,
                proposal.Title,
                proposal.Reason,
                proposal.State,
                proposal.Revision,
                proposal.BaseVersion,
                proposal.RestoresVersion,
                proposal.Authors,
                proposal.CreatedAtUtc,
                proposal.UpdatedAtUtc,
                proposal.ReviewedBy,
                proposal.ReviewNote,
                proposal.ReleasedVersion);
        }
    }

    extension(CommentItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="comment">The remark.</param>
        public static CommentItem Of(ProposalComment comment)
        {
            ArgumentNullException.ThrowIfNull(comment);
            return new CommentItem(comment.Author, comment.AtUtc, comment.Text);
        }
    }

    extension(ChangeItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="change">The change.</param>
        public static ChangeItem Of(RecordChange change)
        {
            ArgumentNullException.ThrowIfNull(change);
            return new ChangeItem(
                change.Kind.TableName,
                change.Key,
                change.Type,
                [.. change.Fields.Select(JsonNamingPolicy.CamelCase.ConvertName)],
                Json(change.Before),
                Json(change.After));
        }
    }

    extension(FindingItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="finding">The finding.</param>
        /// <param name="isNew">Whether the proposal brings it.</param>
        public static FindingItem Of(TableFinding finding, bool isNew)
        {
            ArgumentNullException.ThrowIfNull(finding);
            return new FindingItem(
                finding.Severity,
                finding.Kind.TableName,
                finding.Key,
                JsonNamingPolicy.CamelCase.ConvertName(finding.Field),
                finding.Value,
                finding.Allowed,
                isNew);
        }
    }

    extension(ImportItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="job">The import.</param>
        public static ImportItem Of(ImportJob job)
        {
            ArgumentNullException.ThrowIfNull(job);
            return new ImportItem(
                job.Id,
                job.ProposalId,
                job.TableName,
                job.IsWhole,
                job.IsDryRun,
                job.State,
                job.Percent,
                job.Rows,
                job.Faults,
                job.Added,
                job.Changed,
                job.Unchanged,
                job.Removed,
                job.CreatedAtUtc,
                job.EndedAtUtc,
                job.Message);
        }
    }

    extension(ImportFaultItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="fault">The fault.</param>
        public static ImportFaultItem Of(ImportFault fault)
        {
            ArgumentNullException.ThrowIfNull(fault);
            return new ImportFaultItem(fault.Line, fault.Column, fault.Value, fault.Allowed);
        }
    }

    private static JsonElement? Json(object? record) =>
        record is null ? null : JsonSerializer.SerializeToElement(record, record.GetType(), WireJson.WithDefaults);
}
