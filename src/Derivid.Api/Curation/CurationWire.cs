using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>Puts proposals, differences, findings, imports and readings into their wire form.</summary>
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
            return new CommentItem(comment.Author, comment.AtUtc, comment.Text, comment.Occasion);
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
                job.TableName.Length > 0 ? job.TableName : null,
                job.IsWhole,
                job.IsDryRun,
                job.State,
                job.Percent,
                job.Rows,
                job.Faults,
                job.RowsAtFault,
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
        /// <param name="job">Its import.</param>
        public static ImportFaultItem Of(ImportFault fault, ImportJob job)
        {
            ArgumentNullException.ThrowIfNull(fault);
            ArgumentNullException.ThrowIfNull(job);
            return new ImportFaultItem((fault.TableName ?? job.TableName) is { Length: > 0 } list ? list : null, fault.Line, fault.Column, fault.Value, fault.Allowed);
        }
    }

    extension(SheetLineItem)
    {
        /// <summary>Translates; nothing of what the table lists there goes along.</summary>
        /// <param name="line">The line.</param>
        public static SheetLineItem Of(SheetLine line)
        {
            ArgumentNullException.ThrowIfNull(line);
            return new SheetLineItem(
                line.Record.Key,
                line.Parent.Key,
                line.Parent.Name,
                line.Parent.Formula,
                line.Kind.Key,
                line.Kind.Name,
                line.Record.CarbonylsCondensed,
                line.Record.Form,
                line.ReadersDiffer);
        }
    }

    extension(ReadSheetItem)
    {
        /// <summary>Translates.</summary>
        /// <param name="sheet">The readings of a sheet, in the order sent.</param>
        /// <param name="table">The version they were held against.</param>
        public static ReadSheetItem Of(IReadOnlyList<PrintedReading> sheet, ReferenceTable table)
        {
            ArgumentNullException.ThrowIfNull(sheet);
            ArgumentNullException.ThrowIfNull(table);
            var first = sheet[0];
            var records = table.Derivatives.ToDictionary(record => record.Key, StringComparer.Ordinal);
            var listed = table.Derivatives.ToLookup(SheetPlace.Of);
            var names = table.Parents.ToDictionary(parent => parent.Key, parent => parent.Name, StringComparer.Ordinal);
            var kinds = table.Kinds.ToDictionary(kind => kind.Key, kind => kind.Name, StringComparer.Ordinal);
            return new ReadSheetItem(
                first.SheetId,
                first.SourceKey,
                first.Locator,
                first.ReadBy,
                first.ReadAtUtc,
                first.TableVersion,
                sheet.Select(reading => reading.ProposalId).FirstOrDefault(id => id is not null),
                [.. sheet.Select(reading => (Reading: reading, Place: SheetPlace.Of(records[reading.RecordKey]))).Select(line => new ReadLineItem(
                    line.Reading.RecordKey,
                    names[line.Place.ParentKey],
                    kinds[line.Place.KindKey],
                    line.Place.CarbonylsCondensed,
                    line.Place.Form,
                    line.Reading.AsPrinted,
                    line.Reading.ColourKey,
                    line.Reading.Verdict,
                    [.. listed[line.Place]]))]);
        }
    }

    extension(SourceProgress)
    {
        /// <summary>Counts.</summary>
        /// <param name="table">The table.</param>
        /// <param name="source">Key of the source, and what became of each of its lines typed.</param>
        public static SourceProgress Of(ReferenceTable table, IGrouping<string, ReadingVerdict> source)
        {
            ArgumentNullException.ThrowIfNull(table);
            ArgumentNullException.ThrowIfNull(source);
            return new SourceProgress(
                source.Key,
                table.Sources.FirstOrDefault(row => row.Key == source.Key)?.Citation,
                source.Count(),
                source.Count(verdict => verdict == ReadingVerdict.Agrees),
                source.Count(verdict => verdict == ReadingVerdict.Differs),
                source.Count(verdict => verdict == ReadingVerdict.NotPrinted),
                source.Count(verdict => verdict == ReadingVerdict.AwaitsSecondReader),
                source.Count(verdict => verdict == ReadingVerdict.ReadersDiffer));
        }
    }

    private static JsonElement? Json(object? record) =>
        record is null ? null : JsonSerializer.SerializeToElement(record, record.GetType(), WireJson.WithDefaults);
}
