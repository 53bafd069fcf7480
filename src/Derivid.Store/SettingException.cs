namespace Derivid.Store;

/// <summary>A setting of the service can't be what it is: it can't be read, is out of bounds or contradicts another.</summary>
/// <remarks>For whoever runs the service, who needs its sentence and no trace of the stack.</remarks>
/// <param name="sentence">Which setting, what it is unless that is secret, and what is allowed.</param>
public sealed class SettingException(string sentence) : Exception(sentence);
