using System.Globalization;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Page.Forms;

namespace Derivid.Page.Curation;

/// <summary>The proposal a record goes into: one asked for, a draft chosen, or a new one.</summary>
public sealed class TargetProposal
{
    private readonly DerividClient _client;
    private readonly PostedForm _form;

    private TargetProposal(DerividClient client, PostedForm form, ProposalItem? asked, IReadOnlyList<ProposalItem> drafts) =>
        (_client, _form, Asked, Drafts, Made) = (client, form, asked, drafts, form["made"]);

    /// <summary>The proposal the address names. Missing: null, none.</summary>
    public ProposalItem? Asked { get; }

    /// <summary>Those that can be chosen. Shape: last written first.</summary>
    public IReadOnlyList<ProposalItem> Drafts { get; }

    /// <summary>A proposal made for a record that was then refused, to be used for the next try. Missing: null.</summary>
    public string? Made { get; private set; }

    /// <summary>The revision of the proposal asked for that the form was shown with.</summary>
    public string? Revision => _form.Revision("revision", Asked?.Revision.ToString(CultureInfo.InvariantCulture));

    /// <summary>Why, as typed. Missing: null.</summary>
    public string? Reason => _form.Typed("reason");

    /// <summary>Finds what can be chosen.</summary>
    /// <param name="client">The service.</param>
    /// <param name="form">The form with the fields of <see cref="TargetFields"/>.</param>
    /// <param name="asked">Id of the proposal the address names. Missing: null, none.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<TargetProposal> LoadAsync(
        DerividClient client, PostedForm form, string? asked, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        ArgumentNullException.ThrowIfNull(form);
        var drafts = await client.Proposals.ListAsync(ProposalState.Draft, cancellationToken)
            .OrderByDescending(draft => draft.UpdatedAt).ToListAsync(cancellationToken);
        return new TargetProposal(
            client, form, asked is null ? null : await client.Proposals.GetAsync(asked, cancellationToken), drafts);
    }

    /// <summary>The proposal chosen, made if it is to be a new one.</summary>
    /// <param name="title">What a new one is about when nothing was typed.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<ProposalItem> GetAsync(string title, CancellationToken cancellationToken)
    {
        if (_form["proposal"] is { Length: > 0 } chosen)
        {
            // Meant for the proposal as it was seen; of another one only its name was.
            var proposal = await _client.Proposals.GetAsync(chosen, cancellationToken);
            return chosen == Asked?.Id && int.TryParse(Revision, NumberStyles.None, CultureInfo.InvariantCulture, out var revision)
                ? proposal with { Revision = revision }
                : proposal;
        }

        if (!string.IsNullOrEmpty(Made))
        {
            return await _client.Proposals.GetAsync(Made, cancellationToken);
        }

        var made = await _client.Proposals.CreateAsync(
            new ProposalRequest { Title = _form.Typed("title") ?? title, Reason = Reason }, null, _form.IdempotencyKey, cancellationToken);
        Made = made.Id;
        return made;
    }

    /// <summary>Whether a proposal holds a record already that was to be added; then the form is refused.</summary>
    /// <param name="proposal">The proposal it goes into.</param>
    /// <param name="list">The list.</param>
    /// <param name="key">The record's key.</param>
    /// <param name="field">The field to refuse. Missing: null, the form as a whole.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<bool> HoldsAsync(ProposalItem proposal, string list, string key, string? field, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(proposal);
        if (!await _client.Proposals.ListChangesAsync(proposal.Id, list, cancellationToken).AnyAsync(change => change.Key == key, cancellationToken))
        {
            return false;
        }

        _form.Refuse(field, $"“{proposal.Title}” holds \"{key}\" already; open it from there, so that nothing of it is lost.");
        return true;
    }

    /// <summary>Whether a proposal is one of which the form was shown nothing but its name.</summary>
    /// <param name="proposal">The proposal it goes into.</param>
    public bool IsUnseen(ProposalItem proposal)
    {
        ArgumentNullException.ThrowIfNull(proposal);
        return proposal.Id != Asked?.Id && proposal.Id != Made;
    }
}
